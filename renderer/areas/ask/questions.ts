/** What a maker asks of the books, in plain words, and the screen that answers it. Ranked within each group by what it decides. */

export interface Question {
  readonly text: string;
  /** Other words it is found by. */
  readonly also: string;
  /** Parts of the answer's address. */
  readonly path: readonly string[];
  /** Where it is answered, e.g. "Builds, What next". */
  readonly where: string;
}

export interface QuestionGroup {
  readonly title: string;
  readonly questions: readonly Question[];
}

const ask = (text: string, path: string, where: string, also = ''): Question => ({
  text,
  also,
  path: path.split('/'),
  where,
});

export const questionGroups: readonly QuestionGroup[] = [
  {
    title: 'What my hour brings',
    questions: [
      ask(
        'What did an hour at my bench earn, by model and finish?',
        'builds/next',
        'Builds, What next',
        'rate wage profit all-in',
      ),
      ask(
        'Hand-finished or belt-finished: which pays more for the same knife?',
        'builds/next/families',
        'Builds, What next',
        'family satin compare',
      ),
      ask(
        'Which of my models pays least once photos and packing are counted?',
        'builds/next/lowest',
        'Builds, What next',
        'loses money worst',
      ),
      ask(
        'What is my overhead for each hour, and did it rise?',
        'ask/hours',
        'Ask',
        'rent insurance expenses rate',
      ),
      ask(
        'How much of my time does no knife pay for?',
        'ask/hours/unpaid',
        'Ask',
        'unpaid content messages cleaning',
      ),
    ],
  },
  {
    title: 'This knife, this order',
    questions: [
      ask(
        'What will this custom order cost, what should I ask, and when can I promise it?',
        'orders/quotes',
        'Order book, Quotes',
        'quote price lead time',
      ),
      ask(
        'This blade failed: scrap it, shorten it, sell it as a second or rework it?',
        'ask/doubtful',
        'Ask',
        'gate warped cracked doubtful',
      ),
      ask(
        'Which orders are late or at risk, and what do I tell whom?',
        'orders/promises',
        'Order book, Promises',
        'promise due',
      ),
      ask('How much of my customers’ money am I holding, and for what?', 'orders', 'Order book', 'deposit'),
      ask(
        'Who has bought twice, and who asked for what I am about to finish?',
        'ask/again',
        'Ask',
        'repeat buyers wishes',
      ),
    ],
  },
  {
    title: 'What to make and buy',
    questions: [
      ask('What should I make for the next release?', 'builds/next', 'Builds, What next', 'first look batch'),
      ask(
        'What do I have to buy before the next batch, from whom, by when?',
        'stock/buying',
        'Stock, Buying list',
        'supplier order',
      ),
      ask(
        'Does a batch of three, five or eight give the best hours for a knife?',
        'ask/batches',
        'Ask',
        'batch size',
      ),
      ask(
        'How do I split that billet across three knives?',
        'stock/makings',
        'Stock, Makings',
        'damascus pattern-welded cost share',
      ),
    ],
  },
  {
    title: 'Ways of working',
    questions: [
      ask(
        'Are stones faster and cheaper than paper for finishing by hand?',
        'trials',
        'Trials',
        'compare method learning',
      ),
      ask('Is it cheaper to send heat treatment out?', 'ask/heat', 'Ask', 'harden temper kiln oven'),
      ask(
        'Which hardness gave edges that passed, by steel and by bar?',
        'builds/gates/steel',
        'Builds, Gates',
        'hrc temper chip',
      ),
      ask(
        'How many blades does a belt last since I changed the supplier?',
        'consumables/life/suppliers',
        'Consumables, How long they last',
        'grit abrasive',
      ),
      ask(
        'What did each lost blade really cost me, and at which stage?',
        'ask/failures',
        'Ask',
        'scrap failure',
      ),
    ],
  },
  {
    title: 'Prices and selling',
    questions: [
      ask(
        'Which price was too low, and which too high?',
        'builds/prices',
        'Builds, Prices',
        'sold in minutes sat for months',
      ),
      ask(
        'What did the price rise do to how fast they sell?',
        'builds/prices',
        'Builds, Prices',
        'before after increase',
      ),
      ask(
        'What do supporters bring around a release, and is the early window worth the work?',
        'ask/supporters',
        'Ask',
        'membership first look',
      ),
      ask('What did shipping cost me beyond what I charged?', 'ask/postage', 'Ask', 'postage parcel'),
    ],
  },
  {
    title: 'The year',
    questions: [
      ask(
        'What are finished knives and materials worth, and what did the goods sold cost?',
        'year',
        'Year',
        'stock inventory year end cost of goods',
      ),
      ask(
        'What do I give the tax preparer, and what is still missing?',
        'year/sheet',
        'Year, For the preparer',
        'receipts tax schedule',
      ),
    ],
  },
];

/** Every question, in order. */
export const questions: readonly Question[] = questionGroups.flatMap((group) => group.questions);

const plain = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ');

/** True when every word typed is in the question or beside it. */
export const fits = (question: Question, typed: string): boolean => {
  const all = plain(`${question.text} ${question.also} ${question.where}`);
  return plain(typed)
    .split(' ')
    .every((word) => all.includes(word));
};
