/** Hardening, and the waits that go with a batch: kiln, temper, glue, oil, leather. */
import { addDays } from '../domain/calendar.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import type { DemoBatch, DemoBuild } from './tables/builds.ts';
import { hardenings, type Hardening, steelOf } from './tables/heat.ts';
import type { WaitKind } from '../api/waits.ts';

/** Whole thousandths of a degree Celsius. */
const milliC = (fahrenheit: number): number => Math.round(((fahrenheit - 32) * 5000) / 9);

const minutesAfter = (instant: string, minutes: number): string =>
  new Date(Date.parse(instant) + minutes * 60_000).toISOString();

interface Waiting {
  readonly kind: WaitKind;
  readonly label: string;
  readonly stageCode: string;
  readonly startedAt: string;
  readonly minutes: number;
  readonly heatId?: string;
}

async function wait(ledger: Ledger, builds: readonly DemoBuild[], of: Waiting): Promise<void> {
  const buildIds = builds.map(({ serial }) => idOf(ledger, serial));
  const { id } = await ledger.ask('waits.start', { ...of, buildIds });
  await ledger.ask('waits.done', { id, at: minutesAfter(of.startedAt, of.minutes) });
}

async function recipeOf(ledger: Ledger, hardening: Hardening): Promise<string> {
  const known = ledger.recipes.get(hardening.name);
  if (known !== undefined) return known;
  const [steel] = hardening.steels;
  const saved = await ledger.ask('heats.saveRecipe', {
    name: hardening.name,
    steelItemId: steel === undefined ? null : ledger.house.items[steel],
    steps: hardening.steps.map(toStep),
  });
  ledger.recipes.set(hardening.name, saved.id);
  return saved.id;
}

const toStep = ({ kind, fahrenheit, minutes, note }: Hardening['steps'][number]) => ({
  kind,
  tempMilliC: fahrenheit === null ? null : milliC(fahrenheit),
  minutes,
  note,
});

const EVENING = 'T17:30:00.000Z';
const CYCLE = 120;

async function harden(ledger: Ledger, batch: DemoBatch, hardening: Hardening): Promise<void> {
  const builds = batch.builds.filter(({ variant }) => hardening.steels.includes(steelOf[variant]));
  if (builds.length === 0) return;
  const on = batch.hardened;
  const heat = await ledger.ask('heats.save', {
    on,
    batch: batch.name,
    recipeId: await recipeOf(ledger, hardening),
    buildIds: builds.map(({ serial }) => idOf(ledger, serial)),
    steps: hardening.steps.map(toStep),
  });
  for (const { serial } of builds) ledger.heatIds.set(serial, heat.id);
  const kiln = { kind: 'kiln', label: 'Kiln', stageCode: 'HTA', heatId: heat.id } as const;
  await wait(ledger, builds, { ...kiln, startedAt: `${on}${EVENING}`, minutes: hardening.kilnMinutes });
  const temper = { kind: 'temper', stageCode: 'HTA', minutes: CYCLE, heatId: heat.id } as const;
  const first = minutesAfter(`${on}${EVENING}`, hardening.kilnMinutes + 30);
  await wait(ledger, builds, { ...temper, label: 'First temper', startedAt: first });
  await wait(ledger, builds, {
    ...temper,
    label: 'Second temper',
    startedAt: minutesAfter(first, CYCLE + 60),
  });
}

/** Waits after the end of a stage: how long, and when in the evening they begin. */
const afterStage: Readonly<Record<string, readonly Omit<Waiting, 'startedAt' | 'stageCode'>[]>> = {
  HDL: [{ kind: 'glue', label: 'Epoxy', minutes: 16 * 60 }],
  FIN: [{ kind: 'oilCoat', label: 'Oil, first coat', minutes: 12 * 60 }],
  SHE: [{ kind: 'leather', label: 'Wet-formed sheath', minutes: 18 * 60 }],
  ETC: [{ kind: 'etch', label: 'Etch soak', minutes: 45 }],
};

/** The waits that follow the stages a knife ends on a day. */
export async function waitsAfter(
  ledger: Ledger,
  build: DemoBuild,
  on: string,
  stages: readonly string[],
): Promise<void> {
  for (const stageCode of stages) {
    for (const of of afterStage[stageCode] ?? [])
      await wait(ledger, [build], { ...of, stageCode, startedAt: `${on}T20:00:00.000Z` });
  }
}

/** The hardening day of a batch, each steel in a heat of its own. */
export const heatSteps = (batch: DemoBatch): readonly Step[] => [
  {
    on: batch.hardened,
    // After the session at the kiln is booked.
    order: 3.5,
    async run(ledger) {
      for (const hardening of hardenings) await harden(ledger, batch, hardening);
    },
  },
];

/** The day hardness is measured: after the tempers. */
export const measuredOn = (batch: DemoBatch): string => addDays(batch.hardened, 2);
