/**
 * vCards: version 4.0 (RFC 6350) is written; 4.0 and 3.0 (RFC 2426) are read, and of 2.1 what looks the same.
 * Only what a buyer has is taken; everything else in a card is passed over.
 */
import { ok, refuse, type Outcome } from './outcome.ts';

/** A person as a card carries them. */
export interface Card {
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  /** As written: a name, or two letters. */
  readonly country: string;
  /** RFC 5646 tag, e.g. `de`. */
  readonly language: string;
  readonly note: string;
}

/** A card with the line of the file it begins on. */
export interface ReadCard extends Card {
  readonly line: number;
}

/** Octets a line may have, its end not counted (RFC 6350, 3.2). */
const WIDEST = 75;

const octets = (text: string): number => new TextEncoder().encode(text).length;

/** Parts a line into lines of at most 75 octets, never within a letter; those that follow begin with a space. */
function folded(line: string): string {
  const lines: string[] = [];
  let now = '';
  for (const letter of line) {
    if (octets(now + letter) > WIDEST) {
      lines.push(now);
      now = ' ';
    }
    now += letter;
  }
  return [...lines, now].join('\r\n');
}

/** Backslash, comma and line end are marked; within a part of several also the semicolon (RFC 6350, 3.4). */
const escaped = (text: string): string =>
  text
    .replace(/\r\n?/g, '\n')
    .replaceAll('\\', '\\\\')
    .replaceAll(',', '\\,')
    .replaceAll(';', '\\;')
    .replaceAll('\n', '\\n');

/** Family name last is a guess that fails in much of the world, so the whole name stands in one part of N. */
const nameLine = (name: string): string => `N:${escaped(name)};;;;`;

/** The text of one card. @param uid what another program knows the person by */
export function cardText(card: Card, { uid }: { readonly uid: string }): string {
  const place = [card.address, card.city, card.region, card.postcode, card.country];
  const lines = [
    'BEGIN:VCARD',
    'VERSION:4.0',
    'KIND:individual',
    `UID;VALUE=text:${escaped(uid)}`,
    `FN:${escaped(card.name)}`,
    nameLine(card.name),
    card.email === '' ? '' : `EMAIL:${escaped(card.email)}`,
    card.phone === '' ? '' : `TEL;VALUE=text:${escaped(card.phone)}`,
    place.every((part) => part === '') ? '' : `ADR:;;${place.map(escaped).join(';')}`,
    card.language === '' ? '' : `LANG:${card.language}`,
    card.note === '' ? '' : `NOTE:${escaped(card.note)}`,
    'END:VCARD',
  ];
  return `${lines
    .filter((line) => line !== '')
    .map(folded)
    .join('\r\n')}\r\n`;
}

interface Property {
  readonly name: string;
  readonly params: Readonly<Record<string, string>>;
  readonly value: string;
}

/** Lines put together again, each with the line of the file it began on. */
function unfolded(text: string): readonly { readonly line: number; readonly text: string }[] {
  const lines: { line: number; text: string }[] = [];
  text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\n|\r/)
    .forEach((raw, at) => {
      const last = lines.at(-1);
      if (/^[ \t]/.test(raw) && last) last.text += raw.slice(1);
      else lines.push({ line: at + 1, text: raw });
    });
  return lines.filter((line) => line.text.trim() !== '');
}

/** Where the value begins: the first colon outside quotation marks. */
function colonOf(line: string): number {
  let quoted = false;
  for (let at = 0; at < line.length; at += 1) {
    if (line[at] === '"') quoted = !quoted;
    else if (line[at] === ':' && !quoted) return at;
  }
  return -1;
}

function propertyOf(line: string): Property | undefined {
  const colon = colonOf(line);
  if (colon < 1) return undefined;
  const [group = '', ...params] = line.slice(0, colon).match(/(?:"[^"]*"|[^;"])+/g) ?? [];
  const pairs = params.map((param): [string, string] => {
    const [key = '', ...rest] = param.split('=');
    // A bare word is a type in 2.1.
    return rest.length === 0
      ? ['TYPE', key.toLowerCase()]
      : [key.toUpperCase(), rest.join('=').replaceAll('"', '')];
  });
  return {
    name: (group.split('.').at(-1) ?? '').toUpperCase(),
    params: Object.fromEntries(pairs),
    value: line.slice(colon + 1),
  };
}

const plain = (text: string): string =>
  text.replace(/\\([\\,;:nN])/g, (_, sign: string) => (sign.toLowerCase() === 'n' ? '\n' : sign)).trim();

/** Parts of a value between semicolons that are not marked; several values of a part are parted by blanks. */
const partsOf = (value: string): readonly string[] =>
  (value.match(/(?:\\.|[^;\\])+|;/gs) ?? [])
    .reduce<string[]>(
      (parts, token) => {
        if (token === ';') parts.push('');
        else parts[parts.length - 1] = `${parts.at(-1) ?? ''}${token}`;
        return parts;
      },
      [''],
    )
    .map((part) => plain(part.replace(/(?<!\\),/g, ', ')));

/** The preferred one of several of a kind: the lowest PREF, or the type `pref` of 3.0, else the first. */
function best(properties: readonly Property[], name: string): Property | undefined {
  const rank = ({ params }: Property): number => {
    if (params['PREF'] !== undefined) return Number(params['PREF']);
    return /(?:^|,)pref(?:,|$)/i.test(params['TYPE'] ?? '') ? 0 : 101;
  };
  return properties.filter((property) => property.name === name).toSorted((a, b) => rank(a) - rank(b))[0];
}

/** `tel:+1-555-0100;ext=5` as a person dials it. */
const phoneOf = (value: string): string =>
  plain(value).replace(/^tel:/i, '').replace(/;ext=/i, ' ext. ').replace(/;.*$/, '');

/** Given name first where the card has only its parts. */
function nameOf(properties: readonly Property[]): string {
  const whole = plain(best(properties, 'FN')?.value ?? '');
  if (whole !== '') return whole;
  const [family = '', given = '', more = '', before = '', after = ''] = partsOf(
    best(properties, 'N')?.value ?? '',
  );
  const name = [before, given, more, family, after].filter((part) => part !== '').join(' ');
  return name === '' ? (partsOf(best(properties, 'ORG')?.value ?? '')[0] ?? '') : name;
}

function cardOf(properties: readonly Property[]): Card {
  const [box = '', extra = '', street = '', city = '', region = '', postcode = '', country = ''] = partsOf(
    best(properties, 'ADR')?.value ?? '',
  );
  const value = (name: string): string => plain(best(properties, name)?.value ?? '');
  return {
    name: nameOf(properties),
    email: value('EMAIL').replace(/^mailto:/i, ''),
    phone: phoneOf(best(properties, 'TEL')?.value ?? ''),
    address: [street, extra, box].filter((part) => part !== '').join('\n'),
    city,
    region,
    postcode,
    country,
    language: value('LANG').toLowerCase(),
    note: value('NOTE'),
  };
}

/** True for text that is vCards and not a table. */
export const looksLikeCards = (text: string): boolean => /^\uFEFF?\s*BEGIN:VCARD/i.test(text);

/** Reads every card of a file. @returns the cards in order, or what is wrong with the file as a whole */
export function readCards(text: string): Outcome<readonly ReadCard[]> {
  const cards: ReadCard[] = [];
  let open: { readonly line: number; readonly properties: Property[] } | undefined;
  for (const { line, text: content } of unfolded(text)) {
    const property = propertyOf(content);
    const mark = property === undefined ? '' : `${property.name}:${property.value.trim().toUpperCase()}`;
    if (mark === 'BEGIN:VCARD') {
      if (open !== undefined)
        return refuse(`The card from line ${String(open.line)} does not end before the next one begins.`);
      open = { line, properties: [] };
    } else if (mark === 'END:VCARD') {
      if (open === undefined) return refuse(`Line ${String(line)} ends a card that did not begin.`);
      cards.push({ ...cardOf(open.properties), line: open.line });
      open = undefined;
    } else if (property !== undefined) open?.properties.push(property);
  }
  if (open !== undefined)
    return refuse(`The card from line ${String(open.line)} has no end. Is the file whole?`);
  return ok(cards);
}
