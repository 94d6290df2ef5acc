/** Entries of buyers that may be one person. */
import { folded } from './folding.ts';

export interface Traits {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly city: string;
  readonly postcode: string;
}

export type Likeness = 'email' | 'phone' | 'name' | 'address';

export interface Twins {
  readonly a: string;
  readonly b: string;
  readonly why: readonly Likeness[];
}

/** Shorter numbers are extensions or mistakes. */
const leastDigits = 7;
/** With or without the country's prefix, the same subscriber. */
const comparedDigits = 8;
/** Shorter than a street with a number says nothing. */
const leastAddress = 8;

const words = (text: string): readonly string[] => folded(text).match(/[\p{L}\p{N}]+/gu) ?? [];

/** The last digits of a telephone number; empty where there are too few. */
function phoneKey(phone: string): string {
  const digits = phone.normalize('NFKD').replace(/\D/g, '').replace(/^0+/, '');
  return digits.length < leastDigits ? '' : digits.slice(-comparedDigits);
}

function addressKey({ address, city, postcode }: Traits): string {
  const key = words(`${address} ${city} ${postcode}`).toSorted().join(' ');
  return key.length < leastAddress ? '' : key;
}

/** What each likeness compares; nothing compares where the answer is empty. */
export const likenessKeys: Readonly<Record<Likeness, (traits: Traits) => string>> = {
  email: ({ email }) => folded(email),
  phone: ({ phone }) => phoneKey(phone),
  // Surname first or last, with or without a comma.
  name: ({ name }) => words(name).toSorted().join(' '),
  address: addressKey,
};

const likenesses = ['email', 'phone', 'name', 'address'] as const;

/** Pairs of entries that agree in something, those that agree in most first. */
export function twinsAmong(entries: readonly Traits[], most: number): readonly Twins[] {
  const found = new Map<string, { readonly a: string; readonly b: string; readonly why: Likeness[] }>();
  for (const likeness of likenesses) {
    const first = new Map<string, string>();
    for (const entry of entries) {
      const key = likenessKeys[likeness](entry);
      if (key === '') continue;
      const a = first.get(key);
      if (a === undefined) {
        first.set(key, entry.id);
        continue;
      }
      const pair = `${a}|${entry.id}`;
      const known = found.get(pair);
      if (known) known.why.push(likeness);
      else found.set(pair, { a, b: entry.id, why: [likeness] });
    }
  }
  return [...found.values()].toSorted((x, y) => y.why.length - x.why.length).slice(0, most);
}
