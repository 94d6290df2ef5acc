/** The words to the early group. Nothing is sent: the maker's own mail program opens with them. */
import type { EarlyMessage } from '../../api/releases.ts';
import { minutesText } from '../../domain/durations.ts';
import { releaseKnifeRows, type ReleaseRecord } from '../../storage/queries/releases.ts';
import type { QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { dateIn, moneyIn, wordsFor } from '../paper-words/index.ts';
import { earlyGroup } from './move.ts';
import { needRelease } from './need.ts';

const MINUTE_MS = 60_000;

/** Local day and time with the distance from universal time: readers sit in other places. */
export function openingIn(ctx: Pick<QueryContext, 'clock'>, language: string, instant: string): string {
  const day = ctx.clock.localDay(instant);
  const time = ctx.clock.localTime(instant);
  const ahead = Math.round((Date.parse(`${day}T${time}:00.000Z`) - Date.parse(instant)) / MINUTE_MS);
  const hours = Math.floor(Math.abs(ahead) / 60);
  const rest = Math.abs(ahead) % 60;
  const zone =
    ahead === 0
      ? 'UTC'
      : `UTC${ahead > 0 ? '+' : '−'}${String(hours)}${rest === 0 ? '' : `:${String(rest).padStart(2, '0')}`}`;
  return `${dateIn(language, day)}, ${time} (${zone})`;
}

/** Addresses of mail programs longer than this are cut off by some of them; common practice, no source. */
const LONGEST_MAILTO = 1900;

function textOf(
  ctx: QueryContext,
  release: ReleaseRecord,
  language: string,
): { subject: string; text: string } {
  const { shop, currency } = houseOf(ctx.db);
  const words = wordsFor(language).preview;
  const knives = releaseKnifeRows(ctx.db, [release.id]).filter((knife) => knife.withdrawn_on === null);
  const opens = openingIn(ctx, language, release.early_from);
  const until = openingIn(ctx, language, release.early_until);
  const count = words.knives(knives.length);
  const money = (minor: number): string => `${moneyIn(language, minor, currency)} ${currency}`;
  const lines = knives.map((knife) => {
    const title = knife.title === '' ? knife.model_name : knife.title;
    const line = words.message.line(
      knife.serial,
      title,
      money(knife.price_minor),
      money(knife.shipping_minor),
    );
    return knife.flaw === '' ? line : `${line} (${words.message.flaw(knife.flaw)})`;
  });
  const lot = release.rule === 'lot';
  const parts = [
    words.message.greeting,
    lot ? words.message.introLot(count, opens, until) : words.message.intro(count, opens, until),
    release.note,
    lines.join('\n'),
    [
      lot ? '' : words.message.how,
      lot ? '' : words.message.hold(minutesText(release.hold_minutes)),
      release.one_each === 1 ? words.rules.oneEach : '',
      lot ? words.rules.household : '',
      words.message.attached,
    ]
      .filter((part) => part !== '')
      .join(' '),
    words.message.bye(shop.maker === '' ? shop.name : shop.maker),
  ];
  return {
    subject: words.message.subject(shop.name, release.title),
    text: parts.filter((part) => part !== '').join('\n\n'),
  };
}

/** The message and whom it goes to. */
export const message: HandlerFor<'releases.message'> = (ctx, { id }): EarlyMessage => {
  const release = needRelease(ctx.db, id);
  const { shop } = houseOf(ctx.db);
  const { subject, text } = textOf(ctx, release, shop.language);
  const people = earlyGroup(ctx, release, ctx.clock.today());
  const mails = people.filter((person) => person.email !== '').map((person) => person.email);
  const bcc = encodeURIComponent(mails.join(','));
  // RFC 6068: line breaks in the body are CR LF, written as %0D%0A.
  const body = encodeURIComponent(text.replaceAll('\n', '\r\n'));
  const whole = `mailto:?bcc=${bcc}&subject=${encodeURIComponent(subject)}&body=${body}`;
  return {
    subject,
    text,
    people: people.map(({ name, email, level }) => ({ name, email, level })),
    withoutMail: people.length - mails.length,
    mailto: whole.length <= LONGEST_MAILTO ? whole : null,
  };
};
