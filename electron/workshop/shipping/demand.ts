/** What to look at before a knife leaves, and that nothing leaves before it was looked at. The tool asserts no law. */
import { refused } from '../../api/errors.ts';
import type { ShipReminder } from '../../api/shipping.ts';
import { addMonths } from '../../domain/calendar.ts';
import { countryName } from '../../domain/country-names.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  insertTick,
  listedLotsOf,
  rulesOfCountry,
  type ShipRuleRecord,
} from '../../storage/queries/shipping.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { addressOfBuyer } from './address.ts';

/** Where a knife goes. */
interface Destination {
  /** Two letters; empty when it is not known. */
  readonly country: string;
  readonly region: string;
  /** Leaves the country by the maker's own word, whatever the address says. */
  readonly abroad: boolean;
  readonly buildId?: string | undefined;
  /** Local day, for rules that were checked long ago. */
  readonly today: string;
}

/** What was sold, agreed or sent. */
interface TickedSubject {
  readonly kind: 'sale' | 'order' | 'shipment';
  readonly id: string;
}

const inForce = 'Check the rule in force.';
const checked = 'I checked the rule in force';

/** True for a rule that was checked more than twelve months before a day. */
export const isStale = (checkedOn: string, today: string): boolean => addMonths(checkedOn, 12) < today;

const folded = (text: string): string => text.normalize('NFKC').trim().toLocaleLowerCase('en');

/** A region that is not written in the address may be the one the rule means. */
const mayMean = (rule: ShipRuleRecord, region: string): boolean =>
  rule.region === '' || region === '' || folded(rule.region) === folded(region);

function ruleReminder(rule: ShipRuleRecord, region: string, today: string): ShipReminder {
  const country = countryName(rule.country);
  const place = rule.region === '' ? country : `${rule.region}, ${country}`;
  const here = rule.region !== '' && region === '' ? `If it goes to ${place}: ` : `${place}: `;
  const says = rule.answer === 'no' ? 'you do not ship there.' : 'ask before you ship there.';
  const age = isStale(rule.checked_on, today) ? ', more than a year ago' : '';
  const words = [`${here}${says}`, rule.what, `Last checked on ${rule.checked_on}${age}.`, inForce];
  return {
    key: `rule:${rule.id}`,
    text: words.filter((word) => word !== '').join(' '),
    tick: checked,
    blocks: true,
  };
}

const abroadReminders: readonly ShipReminder[] = [
  {
    key: 'law',
    text: `It leaves the country. Knife law differs from place to place: blade length, how it opens, who may import or own it. ${inForce}`,
    tick: checked,
    blocks: true,
  },
  {
    key: 'age',
    text: `Many places set an age for buying a knife, and some ask the carrier to see a proof of it. ${inForce}`,
    tick: 'The buyer is old enough there',
    blocks: true,
  },
];

const wildlifeReminder = (lot: ReturnType<typeof listedLotsOf>[number], abroad: boolean): ShipReminder => {
  const named = [lot.species, lot.listing].filter((word) => word !== '').join(', ');
  const paper = lot.paper_number === '' ? '' : ` Its document: ${lot.paper_number}.`;
  return {
    key: `wildlife:${lot.id}`,
    text: `Holds ${lot.name} (${named}). A border may ask for wildlife papers.${paper} ${inForce}`,
    tick: checked,
    blocks: abroad,
  };
};

/** Everything to look at before a knife goes somewhere; nothing for a plain parcel at home. */
function remindersFor(db: ReadDb, to: Destination): readonly ShipReminder[] {
  const home = houseOf(db).shop.country;
  const abroad = to.abroad || (to.country !== '' && to.country !== home);
  const rules = rulesOfCountry(db, to.country).filter((rule) => mayMean(rule, to.region));
  const lots = to.buildId === undefined ? [] : listedLotsOf(db, to.buildId);
  return [
    ...rules.map((rule) => ruleReminder(rule, to.region, to.today)),
    ...(abroad ? abroadReminders : []),
    ...lots.map((lot) => wildlifeReminder(lot, abroad)),
  ];
}

/** Whom a parcel is for, and what is in it. */
export interface Parcel {
  readonly buyerId: string;
  readonly addressId: string | null;
  readonly buildId?: string | undefined;
  readonly abroad: boolean;
}

/**
 * Everything to look at before a knife goes to a buyer.
 * @throws FaultError when the buyer, or the address as one of theirs, is not in the books
 */
export function parcelReminders(
  ctx: Pick<QueryContext, 'db' | 'clock'>,
  { buyerId, addressId, ...rest }: Parcel,
): readonly ShipReminder[] {
  const { country, region } = addressOfBuyer(ctx.db, buyerId, addressId);
  return remindersFor(ctx.db, { country, region, ...rest, today: ctx.clock.today() });
}

/**
 * What the maker's own table and the material say of a parcel that left already, so that nothing can be ticked before
 * it. Law and age are left out: they are asked of every parcel abroad, and would hide the lines that matter.
 */
export const toldAfterwards = (
  ctx: Pick<QueryContext, 'db' | 'clock'>,
  parcel: Parcel,
): readonly ShipReminder[] =>
  parcelReminders(ctx, parcel).filter(({ key, blocks }) => blocks && /^(?:rule|wildlife):/.test(key));

/** @throws FaultError of the field `ticks` naming the first reminder that blocks and is not ticked */
function refuseUnticked(reminders: readonly ShipReminder[], ticks: readonly string[]): void {
  const open = reminders.find((reminder) => reminder.blocks && !ticks.includes(reminder.key));
  if (open) throw refused(`Before it leaves, look at this and tick it: ${open.text}`, 'ticks');
}

/**
 * Refuses until everything that blocks is ticked, then keeps what was ticked with the words it had.
 * @throws FaultError of the field `ticks`
 */
export function demandTicks(
  ctx: CommandContext,
  subject: TickedSubject,
  reminders: readonly ShipReminder[],
  ticks: readonly string[],
): void {
  refuseUnticked(reminders, ticks);
  for (const { key, text } of reminders.filter((reminder) => ticks.includes(reminder.key))) {
    const at = ctx.clock.now();
    insertTick(ctx.db, { subject_kind: subject.kind, subject_id: subject.id, reminder: key, text, at });
  }
}
