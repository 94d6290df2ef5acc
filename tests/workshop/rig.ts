/** A real workshop core on a folder of its own, with a clock that stands still and identifiers that count. */
import fs from 'node:fs';
import type { CoreEndpointName, Input, Output } from '../../electron/api/contract.ts';
import { type Fault, FaultError } from '../../electron/api/errors.ts';
import type { ReadDb } from '../../electron/storage/db.ts';
import type { Tables } from '../../electron/storage/schema.ts';
import type { Clock, Renderer } from '../../electron/workshop/context.ts';
import { countingIds } from '../../electron/workshop/core-ids.ts';
import { type Core, createCore, type HandlerTable } from '../../electron/workshop/core.ts';
import { handlers as houseHandlers } from '../../electron/workshop/index.ts';
import { quickFolder } from '../folders.ts';
import { noPress } from './no-press.ts';

/** A clock a test can set; it never moves by itself. */
export interface TestClock extends Clock {
  /** @param instant UTC ISO text, or a day, which then is its noon */
  set(instant: string): void;
}

export interface RigOptions {
  /** Where the clock stands at first; 2024-07-06 at noon unless told. */
  readonly now?: string;
  /** Leave the books as they are made: nobody has set up the workshop yet. */
  readonly bare?: boolean;
  /** Another currency than dollars. */
  readonly currency?: string;
  /** Another folder than a fresh one, to open the same books again. */
  readonly folder?: string;
  /** Name of a safety copy to go back to first. */
  readonly goBackTo?: string;
  /** Another table of use-cases than the house's own. */
  readonly handlers?: HandlerTable;
  readonly renderer?: Renderer;
  /** What identifiers begin with; a further opening of the same books must not count from one again. */
  readonly ids?: string;
}

export interface Rig {
  readonly core: Core;
  readonly folder: string;
  readonly clock: TestClock;
  /** The books as they are now, read only. */
  readonly db: ReadDb;
  /** Calls an endpoint as a screen would. @throws FaultError when it refuses */
  call<N extends CoreEndpointName>(name: N, input: Input<N>): Promise<Output<N>>;
  /** Calls an endpoint that must refuse, with input of any shape, and answers the fault. */
  fault(name: CoreEndpointName, input: unknown): Promise<Fault>;
  /** What was logged as a mistake of ours. */
  readonly log: readonly string[];
  /** Closes the books and removes the folder, unless told to keep it. */
  close(options?: { readonly keep?: boolean }): Promise<void>;
}

/** The set-up every test starts from: dollars, inches, 6.5 % on price and shipping, 35.00 an hour. */
export const demoSetUp: Input<'workshop.setUp'> = {
  name: 'Sedgewarren Edge Shop',
  maker: 'Jorun Sedgewarren',
  address: '4 Quarry Lane\nThistlemere',
  country: 'US',
  currency: 'USD',
  lengthHabit: 'inch',
  weightHabit: 'oz',
  paper: 'Letter',
  invoicePattern: '{YYYY}-{NNNN}',
  invoiceTermsDays: 14,
  taxPlace: {
    name: 'Home state',
    label: 'Sales tax',
    ratePpm: 65_000,
    onShipping: true,
    inclusive: false,
    rounding: 'invoice',
  },
  labourPerHourMicro: 35_000_000,
  labourFrom: '2024-07-01',
  overheadPerHourMicro: 8_030_000,
};

const instantOf = (text: string): string => (text.length === 10 ? `${text}T12:00:00.000Z` : text);

function standingClock(start: string): TestClock {
  let now = instantOf(start);
  return {
    now: () => now,
    today: () => now.slice(0, 10),
    localDay: (instant) => instant.slice(0, 10),
    localTime: (instant) => instant.slice(11, 16),
    set: (instant) => {
      now = instantOf(instant);
    },
  };
}

/** Opens a core on a fresh temporary folder and sets up the workshop. */
export async function openRig(options: RigOptions = {}): Promise<Rig> {
  const folder = options.folder ?? quickFolder('knifewright-test-');
  const clock = standingClock(options.now ?? '2024-07-06');
  const log: string[] = [];
  const core = await createCore({
    folder,
    create: options.folder === undefined,
    clock,
    // A second opening of the same books must not count from one again.
    newId: countingIds(options.ids ?? (options.folder === undefined ? 'id' : 're')),
    renderer: options.renderer ?? noPress('this rig prints no papers'),
    holderName: 'a test',
    handlers: options.handlers ?? houseHandlers,
    ...(options.goBackTo === undefined ? {} : { goBackTo: options.goBackTo }),
    log: (line) => log.push(line),
  });
  const rig: Rig = {
    core,
    folder,
    clock,
    db: core.books.read,
    log,
    async call<N extends CoreEndpointName>(name: N, input: Input<N>) {
      const reply = await core.call(name, input);
      if (!reply.ok) throw new FaultError(reply.fault);
      return reply.value as Output<N>;
    },
    async fault(name, input) {
      const reply = await core.call(name, input);
      if (reply.ok)
        throw new Error(`${name} was expected to refuse but answered ${JSON.stringify(reply.value)}`);
      return reply.fault;
    },
    async close({ keep = false } = {}) {
      await core.close();
      if (!keep) fs.rmSync(folder, { recursive: true, force: true });
    },
  };
  if (options.bare !== true && options.folder === undefined) {
    await rig.call('workshop.setUp', { ...demoSetUp, currency: options.currency ?? demoSetUp.currency });
  }
  return rig;
}

/** Tables whose rows a refused command must leave as they were. */
const bookTables = [
  'workshop',
  'rates',
  'tax_places',
  'channels',
  'stages',
  'suppliers',
  'items',
  'purchases',
  'purchase_lines',
  'lots',
  'models',
  'model_stages',
  'model_parts',
  'model_flats',
  'model_prices',
  'builds',
  'build_stages',
  'build_notes',
  'movements',
  'charges',
  'sessions',
  'session_shares',
  'running_clocks',
  'buyers',
  'number_patterns',
  'paper_texts',
  'supporter_levels',
  'supporter_spans',
  'buyer_addresses',
  'model_options',
  'deposit_policies',
  'orders',
  'order_options',
  'order_builds',
  'order_changes',
  'services',
  'invoice_drafts',
  'structured_invoices',
  'reminders',
  'releases',
  'release_knives',
  'release_entries',
  'release_draws',
  'claims',
  'fairness_log',
  'ship_rules',
  'ship_ticks',
  'shipments',
  'kept_bytes',
  'separate_buyers',
  'service_settings',
  'practice',
  'trials',
  'trial_ways',
  'trial_exceptions',
  'decisions',
  'promise_settings',
  'closed_days',
  'promise_notes',
  'quotes',
  'quote_options',
  'sales',
  'invoices',
  'invoice_lines',
  'payments',
  'attachments',
  'import_mappings',
  'people',
  'person_rates',
  'makings',
  'making_steps',
  'making_outputs',
  'making_charges',
  'openings',
  'opening_builds',
  'burns',
  'burn_builds',
  'tariffs',
  'fires',
  'baths',
  'bath_events',
  'item_counts',
  'waits',
  'wait_builds',
  'gate_targets',
  'checks',
  'check_readings',
  'recipes',
  'recipe_steps',
  'heats',
  'heat_steps',
  'heat_builds',
  'supply_orders',
  'supply_order_lines',
  'tax_forms',
  'tax_form_lines',
  'tax_form_map',
  'sheet_answers',
  'sheets_handed',
  'year_seals',
  'year_seal_rows',
  'year_reopenings',
  'stocktakes',
  'stocktake_lines',
  'stocktake_line_lots',
  'stocktake_counts',
  'stocktake_openings',
  'stocktake_knives',
  'stocktake_others',
  'stocktake_movements',
  'expense_categories',
  'category_lines',
  'expense_repeats',
  'expense_passed',
  'expenses',
  'mileage_rates',
  'mileage',
  'assets',
  'incomes',
  'money_settings',
  'fiscal_rules',
  'journal',
] as const satisfies readonly (keyof Tables)[];

/** The whole content of the books, to compare before and after. */
export const wholeBooks = (db: ReadDb): Readonly<Record<string, readonly unknown[]>> =>
  Object.fromEntries(bookTables.map((table) => [table, db.all(db.q.selectFrom(table).selectAll())]));
