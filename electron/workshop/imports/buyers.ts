/** Buyers from a file: one a line, or one a card. Those the books know already are named. */
import { countryCode } from '../../domain/country-names.ts';
import { folded } from '../../domain/folding.ts';
import { type Likeness, likenessKeys, type Traits } from '../../domain/twins.ts';
import { listBuyers } from '../../storage/queries/buyers.ts';
import { type BuyerRow, insertBuyer } from '../../storage/queries/selling.ts';
import { replaceSpans, supporterLevels } from '../../storage/queries/supporters.ts';
import { taxPlaceRows } from '../../storage/queries/workshop.ts';
import { houseOf } from '../costs/house.ts';
import type { Line } from './cells.ts';
import { NameIndex } from './named.ts';
import type { PlanContext, Planner } from './plan.ts';

type Fields = Omit<BuyerRow, 'id'>;

interface BuyerLine {
  readonly row: Fields;
  readonly levelId: string | null;
  readonly supporterSince: string | null;
  /** Whom the books, or an earlier line, know by the same traits. */
  readonly known: string | undefined;
}

/** Families share an address; the rest is one person's own. */
const compared = ['email', 'phone', 'name'] as const satisfies readonly Likeness[];
const words = { email: 'email', phone: 'telephone', name: 'name' } as const;

/** Finds people by what is their own. */
class Known {
  readonly #by = new Map<string, string>();

  add(traits: Traits, who: string): void {
    for (const likeness of compared) {
      const key = likenessKeys[likeness](traits);
      if (key !== '' && !this.#by.has(`${likeness}:${key}`)) this.#by.set(`${likeness}:${key}`, who);
    }
  }

  find(traits: Traits): string | undefined {
    for (const likeness of compared) {
      const key = likenessKeys[likeness](traits);
      const who = key === '' ? undefined : this.#by.get(`${likeness}:${key}`);
      if (who !== undefined) return `${who}, by the same ${words[likeness]}`;
    }
    return undefined;
  }
}

const traitsOf = (row: Fields): Traits => ({
  id: '',
  name: row.name,
  email: row.email,
  phone: row.phone,
  address: row.address,
  city: row.city ?? '',
  postcode: row.postcode ?? '',
});

/** A day that may be left out. */
const dayOf = (line: Line, field: string, today: string): string | null =>
  line.text(field) === '' ? null : line.date(field, today);

function countryOf(line: Line): string | null {
  const typed = line.text('country');
  if (typed === '') return '';
  return (
    countryCode(typed) ??
    line.problem('country', `“${typed}” is no country. Write its English name or its two letters.`)
  );
}

/** What a name in the file stands for in the books; the value given when nothing is written. */
function named<T>(
  line: Line,
  field: string,
  index: NameIndex<T>,
  whenEmpty: T | null,
  where: string,
): T | null {
  const typed = line.text(field);
  if (typed === '') return whenEmpty;
  return index.first(typed) ?? line.problem(field, `There is no “${typed}” under ${where}. Enter it first.`);
}

const longest = { name: 200, email: 200, phone: 200, city: 200, region: 200, postcode: 200 } as const;

function lengthsOf(line: Line): void {
  for (const [field, most] of Object.entries(longest)) {
    if (line.text(field).length > most) line.problem(field, `Keep this under ${String(most)} characters.`);
  }
}

/** What names in a file are looked up in. */
interface Shelves {
  readonly today: string;
  readonly places: NameIndex<{ readonly id: string }>;
  readonly homePlace: { readonly id: string };
  readonly levels: NameIndex<{ readonly id: string }>;
}

function shelvesOf({ db, clock }: PlanContext): Shelves {
  const today = clock.today();
  return {
    today,
    places: new NameIndex(taxPlaceRows(db), (place) => place.name),
    homePlace: { id: houseOf(db).shop.home_tax_place_id },
    levels: new NameIndex(supporterLevels(db, today), (level) => level.name),
  };
}

function knownIn({ db, clock }: PlanContext): Known {
  const known = new Known();
  const everyone = { text: '', includeArchived: true };
  for (const buyer of listBuyers(db, everyone, { limit: -1, offset: 0, today: clock.today() }))
    if (buyer.erased_on === null) known.add(traitsOf(buyer), buyer.name);
  return known;
}

function languageOf(line: Line): string {
  const language = folded(line.text('language'));
  if (!/^([a-z]{2,3})?$/.test(language))
    line.problem('language', 'Write the language as two letters, for example en or de.');
  return language;
}

function rowOf(line: Line, shelves: Shelves): Fields | null {
  const name = line.required('name', 'The name');
  const country = countryOf(line);
  const place = named(line, 'taxPlace', shelves.places, shelves.homePlace, 'Workshop, tax places');
  const language = languageOf(line);
  const first = dayOf(line, 'firstContact', shelves.today);
  lengthsOf(line);
  if (name === null || country === null) return null;
  return {
    name,
    email: line.text('email'),
    phone: line.text('phone'),
    address: line.text('address'),
    city: line.text('city'),
    region: line.text('region'),
    postcode: line.text('postcode'),
    country,
    tax_place_id: place?.id ?? null,
    tax_number: line.text('taxNumber'),
    language,
    first_contact_on: first,
    note: line.text('note'),
    archived: 0,
  };
}

type Membership = Pick<BuyerLine, 'levelId' | 'supporterSince'>;

function membershipOf(line: Line, { levels, today }: Shelves): Membership | null {
  const level = named(line, 'level', levels, null, 'Buyers, Supporters');
  const supporterSince = dayOf(line, 'supporterSince', today);
  return level === null && supporterSince !== null
    ? line.problem('level', 'A day of support needs its level in the same line.')
    : { levelId: level?.id ?? null, supporterSince };
}

/** Reads and books buyers. @param leaveOutKnown leave people the books know out, instead of refusing their lines */
export function buyersPlanner(ctx: PlanContext, leaveOutKnown: boolean): Planner<BuyerLine> {
  const shelves = shelvesOf(ctx);
  const known = knownIn(ctx);
  return {
    read(line) {
      const row = rowOf(line, shelves);
      const membership = membershipOf(line, shelves);
      if (row === null || membership === null) return null;
      const twin = known.find(traitsOf(row));
      known.add(traitsOf(row), `${row.name} in line ${String(line.line)}`);
      if (twin === undefined || leaveOutKnown) return { row, ...membership, known: twin };
      const way = 'Take the line out, or choose to leave out people who are known already.';
      return line.problem('name', `This may be ${twin}. ${way}`);
    },
    words: ({ row, levelId }) =>
      [row.name, row.email, row.city, row.country, levelId === null ? '' : 'supporter']
        .filter((word) => word !== '')
        .join(', '),
    leftOut: ({ row, known: twin }) => (twin === undefined ? undefined : `${row.name}: ${twin}.`),
    wouldMake: () => [],
    prepare: (_ctx, lines) =>
      Promise.resolve((run) => {
        for (const { row, levelId, supporterSince } of lines) {
          const id = run.newId();
          insertBuyer(run.db, { ...row, id });
          if (levelId === null) continue;
          replaceSpans(run.db, id, [{ id: run.newId(), levelId, from: supporterSince, until: null }]);
        }
        return { booked: lines.length, made: 0 };
      }),
  };
}
