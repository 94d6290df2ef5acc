/** Contract of where the workshop ships and what to check before. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** A place the maker does not ship to, or asks about first; in the maker's own words. */
export interface ShipRule {
  readonly id: string;
  readonly country: string;
  /** Empty: the whole country. */
  readonly region: string;
  readonly answer: 'no' | 'ask';
  readonly what: string;
  readonly checkedOn: string;
  /** Checked more than twelve months ago. */
  readonly stale: boolean;
  readonly archived: boolean;
}

/** Something to look at before a knife leaves for a place. */
export interface ShipReminder {
  /** What a tick names. */
  readonly key: string;
  readonly text: string;
  /** The words beside the box. */
  readonly tick: string;
  /** Nothing is sold or sent before it is ticked. */
  readonly blocks: boolean;
}

/** What was ticked, when. */
interface ShipTick {
  readonly key: string;
  readonly text: string;
  /** UTC ISO instant. */
  readonly at: string;
}

/** Two letters of a country, or nothing. */
const country = z
  .string()
  .trim()
  .toUpperCase()
  .regex(/^[A-Z]{2}$/, 'Choose the country.');

/** Every call of where the workshop ships and what to check before. */
export const shippingEndpoints = {
  'shipping.rules': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<
    readonly ShipRule[]
  >(),
  'shipping.saveRule': command(
    z.strictObject({
      id: f.id.optional(),
      country,
      region: f.shortText.default(''),
      answer: z.enum(['no', 'ask']),
      what: f.longText.default(''),
      checkedOn: f.isoDate,
      archived: z.boolean().default(false),
    }),
  )<ShipRule>(),
  /** What to look at before a knife goes to a buyer. Changes nothing. */
  'shipping.reminders': query(
    z.strictObject({
      buyerId: f.id,
      /** Where the parcel goes when that is not the invoice address. */
      addressId: f.id.nullable().default(null),
      buildId: f.id.optional(),
      /** Leaves the country by the maker's own word, whatever the address says. */
      abroad: z.boolean().default(false),
    }),
  )<readonly ShipReminder[]>(),
  'shipping.ticked': query(z.strictObject({ kind: z.enum(['sale', 'order', 'shipment']), subjectId: f.id }))<
    readonly ShipTick[]
  >(),
} as const;
