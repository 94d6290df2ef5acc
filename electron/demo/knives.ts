/** Knives from planned to finished, day by day. */
import { amount } from './amounts.ts';
import { checkSteps } from './checking.ts';
import { heatSteps, waitsAfter } from './heating.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { pictureOf } from './pictures/knives.ts';
import { planBatches, type PlannedSession } from './sessions.ts';
import { batches, type DemoBatch, type DemoBuild } from './tables/builds.ts';
import { items, type DemoItem, type ItemKey } from './tables/items.ts';
import { partsOf } from './tables/models.ts';
import { lastDay } from './tables/setting.ts';
import { take } from './taking.ts';

const tableItem = (key: ItemKey): DemoItem => items[key];

async function planKnives(ledger: Ledger, batch: DemoBatch): Promise<void> {
  for (const { serial, variant } of batch.builds) {
    const planned = await ledger.ask('builds.plan', {
      modelId: ledger.house.models[variant].id,
      serial,
      batch: batch.name,
      on: batch.start,
    });
    const [id] = planned.ids;
    if (id === undefined) throw new Error(`${serial} was not planned`);
    ledger.buildIds.set(serial, id);
    await ledger.ask('builds.start', { id, on: batch.start });
  }
}

async function cutBlanks(ledger: Ledger, batch: DemoBatch): Promise<void> {
  for (const { steel, bar, serials } of batch.cuts) {
    const lotId = ledger.lotIds.get(steel)?.[bar];
    const variant = batch.builds.find((build) => build.serial === serials[0])?.variant;
    const part = variant === undefined ? undefined : partsOf(variant).find(({ item }) => item === steel);
    if (lotId === undefined || part?.perBar == null) throw new Error(`No bar of ${steel} to cut`);
    await ledger.ask('stock.cut', {
      lotId,
      blankLength: amount(part.qty, part.unit),
      kerf: tableItem(steel).item.kerfNm ?? 0,
      sharing: 'whole-bar',
      blanksPerBar: part.perBar,
      buildIds: serials.map((serial) => idOf(ledger, serial)),
      on: batch.start,
    });
  }
}

/** One session at the bench. */
export const bench = (session: PlannedSession): Step => ({
  on: session.on,
  order: 2,
  async run(ledger) {
    await ledger.ask('hours.book', {
      on: session.on,
      minutes: session.shares.reduce((sum, share) => sum + share.minutes, 0),
      stageCode: session.stageCode,
      workKind: null,
      shares: session.shares.map(({ serial, minutes }) => ({
        buildId: idOf(ledger, serial),
        weight: minutes,
      })),
    });
  },
});

/** Pins the picture to a knife on the day of its photos. */
async function photograph(ledger: Ledger, build: DemoBuild): Promise<void> {
  const drawn = ledger.pictures.get(build.variant) ?? pictureOf(build.variant);
  ledger.pictures.set(build.variant, drawn);
  const { base64, thumbBase64 } = await drawn;
  await ledger.ask('files.attach', {
    ownerKind: 'build',
    ownerId: idOf(ledger, build.serial),
    role: 'photo',
    name: `${build.serial}.png`,
    caption: 'Outline of the model, in place of a photo',
    base64,
    thumbBase64,
  });
}

/** Everything that goes with the end of stages on a day. */
export async function endStages(
  ledger: Ledger,
  build: DemoBuild,
  on: string,
  stages: readonly string[],
): Promise<void> {
  await take(ledger, build, on, stages);
  if (stages.includes('PHO')) await photograph(ledger, build);
  for (const code of stages) {
    await ledger.ask('builds.stage', { id: idOf(ledger, build.serial), code, done: true, on });
  }
  await waitsAfter(ledger, build, on, stages);
}

/** The stages of a knife that end on each day, from its sessions. */
function stageEnds(
  serial: string,
  sessions: readonly PlannedSession[],
): ReadonlyMap<string, readonly string[]> {
  const last = new Map<string, string>();
  for (const session of sessions) {
    if (session.shares.some((share) => share.serial === serial)) last.set(session.stageCode, session.on);
  }
  const ends = new Map<string, readonly string[]>();
  for (const [code, on] of last) ends.set(on, [...(ends.get(on) ?? []), code]);
  return ends;
}

const SCRAPPED_BECAUSE =
  'Edge flex failed: an 11 mm piece chipped out 60 mm from the heel and a crack ran on. Snapped on purpose: coarse grey grain. Overheated at the second normalising, pyrometer lead loose.';

const ending = (batch: DemoBatch, build: DemoBuild): Step[] => {
  if (build.until !== undefined) {
    const on = build.until;
    return [
      {
        on,
        order: 6,
        async run(ledger) {
          const id = idOf(ledger, build.serial);
          await ledger.ask('builds.end', { id, as: 'scrapped', on, reason: SCRAPPED_BECAUSE });
        },
      },
    ];
  }
  const { finished } = batch;
  if (finished === null) return [];
  return [
    {
      on: finished,
      order: 4,
      async run(ledger) {
        await ledger.ask('builds.finish', { id: idOf(ledger, build.serial), on: finished });
      },
    },
  ];
};

const batchSteps = (batch: DemoBatch, sessions: readonly PlannedSession[]): readonly Step[] => [
  {
    on: batch.start,
    order: 1,
    async run(ledger) {
      await planKnives(ledger, batch);
      await cutBlanks(ledger, batch);
    },
  },
  ...sessions.map(bench),
  ...batch.builds.flatMap((build) => [
    ...[...stageEnds(build.serial, sessions)].map(([on, stages]): Step => ({
      on,
      order: 3,
      run: (ledger) => endStages(ledger, build, on, stages),
    })),
    ...ending(batch, build),
  ]),
  ...heatSteps(batch),
  ...checkSteps(batch, sessions),
];

/** Every batch, from planned to finished or to where it stands. */
export function knifeSteps(): readonly Step[] {
  const planned = planBatches(batches, lastDay);
  return batches.flatMap((batch) => batchSteps(batch, planned.get(batch) ?? []));
}
