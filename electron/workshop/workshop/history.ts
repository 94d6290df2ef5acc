/** Use-case: what was done in this workshop, in words. */
import { idsNamed } from '../../storage/queries/history-names.ts';
import { historyPage } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { aboutEntries, type ReadEntry } from './history-about.ts';
import { commandWords } from './history-words.ts';

const wordsOf = new Map<string, string>(Object.entries(commandWords));

/** Fields of an input that name the thing, in the order they tell most. */
const naming = ['serial', 'name', 'title', 'label', 'reference', 'reason', 'text'] as const;

const LONGEST_DETAIL = 80;

function nameIn(input: unknown): string {
  if (typeof input !== 'object' || input === null) return '';
  const fields = new Map<string, unknown>(Object.entries(input));
  const found = naming
    .map((field) => fields.get(field))
    .find((value) => typeof value === 'string' && value !== '');
  return typeof found === 'string' ? found.slice(0, LONGEST_DETAIL) : '';
}

/** E.g. `Took stock for a knife: W-0003, Walnut scales`, with what the input says in so many words behind it. */
function summaryOf(entry: ReadEntry, about: string): string {
  const said = wordsOf.get(entry.command) ?? entry.command;
  const own = nameIn(entry.input);
  const detail = [about, about.includes(own) ? '' : own].filter((part) => part !== '').join('; ');
  return detail === '' ? said : `${said}: ${detail}`;
}

const commandsSaying = (text: string): string[] => {
  const wanted = text.toLowerCase();
  return [...wordsOf].filter(([, said]) => said.toLowerCase().includes(wanted)).map(([command]) => command);
};

/** The journal, newest first; a text is looked for in the words, in what was entered and in what it is about. */
export const history: HandlerFor<'workshop.history'> = (ctx, input) => {
  const commands = input.text === '' ? [] : commandsSaying(input.text);
  const ids = input.text === '' ? [] : idsNamed(ctx.db, input.text);
  const { rows, total } = historyPage(ctx.db, { ...input, commands, ids });
  const entries = rows.map(({ command, body, ...row }) => ({
    ...row,
    command,
    input: JSON.parse(body) as unknown,
  }));
  const about = aboutEntries(ctx.db, entries);
  return {
    total,
    rows: entries.map((entry) => ({
      seq: entry.seq,
      at: entry.at,
      command: entry.command,
      summary: summaryOf(entry, about(entry)),
      hash: entry.hash,
    })),
  };
};
