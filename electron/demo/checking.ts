/** What was measured at the gates. */
import type { Measure, Verdict } from '../api/gates.ts';
import { between, chance, seedOf } from './chance.ts';
import { measuredOn } from './heating.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { minutesFor } from './learning.ts';
import type { PlannedSession } from './sessions.ts';
import type { DemoBatch, DemoBuild } from './tables/builds.ts';
import {
  chipped,
  chippedHardness,
  chopped,
  edgeOf,
  hardenings,
  steelOf,
  stillWarped,
  warped,
} from './tables/heat.ts';

const THOU = 25_400;
const HUNDREDTH_MM = 10_000;
const TENTH_HRC = 100;

interface Found {
  readonly readings?: readonly { readonly place?: string; readonly value: number }[];
  readonly verdict: Verdict;
  readonly note?: string;
}

async function note(
  ledger: Ledger,
  build: DemoBuild,
  on: string,
  measure: Measure,
  found: Found,
): Promise<void> {
  const heatId = measure === 'hardness' ? (ledger.heatIds.get(build.serial) ?? null) : null;
  await ledger.ask('gates.check', {
    measure,
    on,
    heatId,
    knives: [
      {
        buildId: idOf(ledger, build.serial),
        readings: [...(found.readings ?? [])],
        verdict: found.verdict,
        note: found.note ?? '',
      },
    ],
  });
}

function straightness({ serial }: DemoBuild): Found {
  const found = warped[serial];
  if (found === undefined) {
    return {
      readings: [{ value: between(chance(seedOf(serial)), 5, 40) * HUNDREDTH_MM }],
      verdict: 'pass',
    };
  }
  const value = found * HUNDREDTH_MM;
  return serial === stillWarped
    ? { readings: [{ value }], verdict: 'rework', note: 'Slightly crooked after the quench; still open.' }
    : { readings: [{ value }], verdict: 'rework', note: 'Clamped straight in the second temper.' };
}

function hardness({ serial, variant }: DemoBuild): Found {
  const { target } = hardenings.find(({ steels }) => steels.includes(steelOf[variant])) ?? { target: 600 };
  // Within 0.6 of the target.
  const tenths = serial === chipped ? chippedHardness : target + between(chance(seedOf(serial) + 1), -6, 6);
  return { readings: [{ value: tenths * TENTH_HRC }], verdict: 'pass' };
}

function behindEdge({ serial, variant }: DemoBuild): Found {
  const [low, high] = edgeOf[variant];
  const next = chance(seedOf(serial) + 2);
  const readings = ['heel', 'middle', 'tip'].map((place) => ({
    place,
    value: (serial === chipped ? 8 : between(next, low, high)) * THOU,
  }));
  return { readings, verdict: 'pass' };
}

const edgeFlex = ({ serial }: DemoBuild): Found =>
  serial === chipped
    ? { verdict: 'fail', note: 'An 11 mm piece chipped out 60 mm from the heel; a crack runs on from it.' }
    : { verdict: 'pass' };

/** The last day of a stage. */
const endOf = (serial: string, stage: string, sessions: readonly PlannedSession[]): string | undefined =>
  sessions.findLast(
    (session) => session.stageCode === stage && session.shares.some((share) => share.serial === serial),
  )?.on;

function knifeChecks(batch: DemoBatch, build: DemoBuild, sessions: readonly PlannedSession[]): Step[] {
  const stages = minutesFor(batch, build);
  const at = (on: string | undefined, measure: Measure, found: Found): Step[] =>
    on === undefined ? [] : [{ on, order: 3.7, run: (ledger) => note(ledger, build, on, measure, found) }];
  const straightened = stages.has('STR') ? measuredOn(batch) : undefined;
  const mended: Found = { readings: [{ value: 20 * HUNDREDTH_MM }], verdict: 'pass' };
  const wasWarped = warped[build.serial] !== undefined && build.serial !== stillWarped;
  const sharp = build.serial === chipped ? build.until : endOf(build.serial, 'SHP', sessions);
  return [
    ...at(batch.hardened, 'warp', straightness(build)),
    ...(wasWarped ? at(straightened, 'warp', mended) : []),
    ...at(straightened, 'hardness', hardness(build)),
    ...at(endOf(build.serial, 'GR2', sessions), 'behindEdge', behindEdge(build)),
    ...at(sharp, 'edgeFlex', edgeFlex(build)),
    ...(chopped.includes(build.serial) ? at(sharp, 'chop', { verdict: 'pass' }) : []),
  ];
}

/** Every check of a batch, on the day it was made. */
export const checkSteps = (batch: DemoBatch, sessions: readonly PlannedSession[]): readonly Step[] =>
  batch.builds.flatMap((build) => knifeChecks(batch, build, sessions));
