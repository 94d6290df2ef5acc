/** Contract of the Bench (today), find-anything and attached files. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import { type Attachment, type BatchRow, type BuildRow, ownerKinds } from './builds.ts';
import type { Clock } from './hours.ts';
import type { InvoiceRow } from './selling.ts';
import type { ItemRow } from './stock.ts';
import type { Wait } from './waits.ts';

export interface BenchDay {
  readonly today: string;
  readonly clock: Clock | null;
  /** Every running clock, the maker's first. */
  readonly clocks: readonly Clock[];
  /** Waits that are over or end today, soonest first; then the others that run. */
  readonly waits: readonly Wait[];
  readonly batches: readonly BatchRow[];
  /** What planned knives lack on the rack. */
  readonly shortFor: readonly {
    readonly itemId: string;
    readonly itemName: string;
    readonly shortWords: string;
    readonly serials: readonly string[];
    readonly orderBy: string | null;
    readonly late: boolean;
  }[];
  /** Sentences about oil that is due. */
  readonly oilDue: readonly { readonly bathId: string; readonly name: string; readonly sentence: string }[];
  /** Orders at suppliers that should be here by now. */
  readonly suppliesDue: readonly {
    readonly orderId: string;
    readonly tag: string;
    readonly supplierName: string;
    readonly dueOn: string;
  }[];
  /** The newest knives of each state, with how many there are in all. */
  readonly inWork: f.Page<BuildRow>;
  readonly planned: f.Page<BuildRow>;
  readonly unsold: f.Page<BuildRow>;
  readonly low: readonly ItemRow[];
  readonly unpaid: readonly InvoiceRow[];
  readonly soldWithoutInvoice: readonly {
    readonly saleId: string;
    readonly serial: string;
    readonly buyerName: string;
    readonly on: string;
  }[];
  readonly minutesToday: number;
  readonly minutesThisWeek: number;
  /** Stages worked on most lately, for one-touch start. */
  readonly lately: readonly {
    readonly stageCode: string;
    readonly stageName: string;
    readonly builds: readonly { readonly id: string; readonly serial: string }[];
  }[];
  /** First steps still open on a young workshop. */
  readonly firstSteps: readonly {
    readonly key: 'items' | 'purchase' | 'model' | 'build' | 'hours' | 'sale';
    readonly done: boolean;
  }[];
}

export interface Hit {
  readonly kind:
    | 'build'
    | 'item'
    | 'lot'
    | 'purchase'
    | 'supplier'
    | 'buyer'
    | 'invoice'
    | 'model'
    | 'making'
    | 'heat'
    | 'order'
    | 'quote';
  readonly id: string;
  readonly title: string;
  readonly detail: string;
}

/** Every call of the Bench, of find-anything and of attached files. */
export const deskEndpoints = {
  'bench.today': query(z.strictObject({}))<BenchDay>(),
  'find.anything': query(z.strictObject({ text: f.shortText, limit: z.int().min(1).max(100).default(30) }))<
    readonly Hit[]
  >(),
  'files.attach': command(
    z.strictObject({
      ownerKind: z.enum(ownerKinds),
      ownerId: f.id,
      role: z.enum(['photo', 'drawing', 'paper']),
      name: f.requiredText,
      caption: f.shortText.default(''),
      base64: z
        .base64('This file could not be read.')
        .max(44_000_000, 'This file is larger than 32 MB; make it smaller first.'),
      /** Small JPEG or PNG made on the screen, for lists. */
      thumbBase64: z.base64().max(400_000).optional(),
    }),
  )<Attachment>(),
  'files.read': query(z.strictObject({ id: f.id, size: z.enum(['full', 'thumb']) }))<{
    readonly mime: string;
    readonly name: string;
    readonly base64: string;
  }>(),
  'files.caption': command(z.strictObject({ id: f.id, caption: f.shortText }))<Attachment>(),
  'files.remove': command(z.strictObject({ id: f.id, reason: f.shortText.default('') }))<null>(),
  'files.list': query(z.strictObject({ ownerKind: z.enum(ownerKinds), ownerId: f.id }))<
    readonly Attachment[]
  >(),
} as const;
