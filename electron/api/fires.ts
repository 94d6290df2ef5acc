/** Contract of oil, gas and current: baths with a life, cylinders weighed or timed, ovens by the kilowatt-hour. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

export const bathEventKinds = ['fill', 'topUp', 'quench', 'filter', 'water', 'change', 'reversal'] as const;
export type BathEventKind = (typeof bathEventKinds)[number];

export interface BathEvent {
  readonly id: string;
  readonly on: string;
  readonly kind: BathEventKind;
  readonly qtyNl: number;
  readonly quenches: number;
  readonly valueMicro: number;
  readonly reason: string;
  readonly builds: readonly { readonly id: string; readonly serial: string }[];
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

export interface Bath {
  readonly id: string;
  readonly name: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly lifeQuenches: number | null;
  readonly lifeDays: number | null;
  readonly flashMilliC: number | null;
  readonly note: string;
  readonly archived: boolean;
  readonly volumeNl: number;
  readonly valueMicro: number;
  /** Since the last fill or change. */
  readonly quenches: number;
  readonly filledOn: string | null;
  readonly filteredOn: string | null;
  /** What a quench of one blade costs now; null where the life is not set. */
  readonly perQuenchMicro: number | null;
  /** A sentence when it should be changed or looked at. */
  readonly due: string | null;
  readonly events: readonly BathEvent[];
}

export interface Fire {
  readonly id: string;
  readonly name: string;
  readonly kind: 'oven' | 'forge';
  readonly watts: number;
  readonly dutyPpm: number;
  readonly burnRateNg: number;
  readonly gasItemId: string | null;
  readonly note: string;
  readonly archived: boolean;
}

export interface Tariff {
  readonly from: string;
  readonly perKwhMicro: number;
  readonly note: string;
}

export interface Burn {
  readonly id: string;
  readonly on: string;
  readonly kind: 'gasByWeight' | 'gasByHours' | 'current';
  readonly label: string;
  /** How it was reckoned, e.g. "4.2 h × 3.2 lb/h". */
  readonly how: string;
  readonly amountMicro: number;
  readonly makingId: string | null;
  readonly makingTag: string | null;
  readonly builds: readonly { readonly id: string; readonly serial: string; readonly amountMicro: number }[];
  readonly takenBack: boolean;
}

const share = z.strictObject({ buildId: f.id, weight: z.int().min(1).max(1000).default(1) });
const forWhom = {
  on: f.isoDate,
  shares: z.array(share).max(100).default([]),
  /** For a making instead of knives. */
  makingId: f.id.nullable().default(null),
  stageCode: z.string().min(2).max(6).nullable().default(null),
  note: f.longText.default(''),
};
const milliC = z
  .int('Write a temperature.')
  .min(-273_150, 'Nothing is colder than −273.15 °C.')
  .max(2_000_000);

/** Every call about oil, gas and current. */
export const fireEndpoints = {
  'baths.list': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<readonly Bath[]>(),
  'baths.save': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      itemId: f.id,
      lifeQuenches: z.int().min(1).max(100_000).nullable().default(null),
      lifeDays: z.int().min(1).max(10_000).nullable().default(null),
      flashMilliC: milliC.nullable().default(null),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Bath>(),
  /** Oil from the rack into the tank. */
  'baths.pour': command(
    z.strictObject({
      bathId: f.id,
      kind: z.enum(['fill', 'topUp']),
      lotId: f.id.optional(),
      qty: f.quantity,
      on: f.isoDate,
    }),
  )<Bath>(),
  /** Blades quenched: each pays its share of what is in the bath over what is left of its life. */
  'baths.quench': command(
    z.strictObject({
      bathId: f.id,
      on: f.isoDate,
      buildIds: z.array(f.id).min(1, 'Choose the knives that were quenched.').max(100),
      /** How often each went in. */
      times: z.int().min(1).max(20).default(1),
      heatId: f.id.nullable().default(null),
    }),
  )<Bath>(),
  'baths.note': command(
    z.strictObject({
      bathId: f.id,
      kind: z.enum(['filter', 'water']),
      on: f.isoDate,
      reason: f.shortText.default(''),
    }),
  )<Bath>(),
  /** The old oil goes; what it was still worth is overhead. */
  'baths.change': command(z.strictObject({ bathId: f.id, on: f.isoDate, reason: f.requiredText }))<Bath>(),
  'baths.reverse': command(z.strictObject({ eventId: f.id, reason: f.requiredText }))<Bath>(),

  'fires.list': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<readonly Fire[]>(),
  'fires.save': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      kind: z.enum(['oven', 'forge']),
      watts: z.int().min(0).max(100_000).default(0),
      dutyPpm: f.ratePpm.default(1_000_000),
      burnRateNg: f.quantityOrZero.default(0),
      gasItemId: f.id.nullable().default(null),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Fire>(),
  'fires.tariffs': query(z.strictObject({}))<readonly Tariff[]>(),
  'fires.setTariff': command(
    z.strictObject({ from: f.isoDate, perKwhMicro: f.microPositive, note: f.shortText.default('') }),
  )<readonly Tariff[]>(),
  /** Gas by weighing the cylinder before and after, or by fire time × burn rate; taken off the rack. */
  'fires.gas': command(
    z.strictObject({
      ...forWhom,
      itemId: f.id,
      lotId: f.id.optional(),
      how: z.enum(['weight', 'hours']),
      beforeNg: f.quantity.optional(),
      afterNg: f.quantityOrZero.optional(),
      fireMinutes: f.minutes.optional(),
      burnRateNg: f.quantity.optional(),
    }),
  )<Burn>(),
  /** Current by the meter (`wattHours`), or an oven's watts × duty × time; at the tariff of the day. */
  'fires.current': command(
    z.strictObject({
      ...forWhom,
      fireId: f.id.optional(),
      minutes: z
        .int()
        .min(1)
        .max(14 * 24 * 60)
        .optional(),
      wattHours: z.int().min(1).max(10_000_000).optional(),
    }),
  )<Burn>(),
  'fires.burns': query(z.strictObject({ buildId: f.id.optional(), makingId: f.id.optional(), ...f.page }))<
    f.Page<Burn>
  >(),
  'fires.takeBack': command(z.strictObject({ burnId: f.id, reason: f.requiredText }))<Burn>(),
} as const;
