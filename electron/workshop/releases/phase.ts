/** The phase of a release now. */
import { phaseOf, type ReleasePhase } from '../../domain/releases.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { ReleaseRecord } from '../../storage/queries/releases.ts';
import type { Clock } from '../context.ts';
import { goesByDraw, type Standing, standingOf } from './hat.ts';

interface Looking {
  readonly db: ReadDb;
  readonly clock: Clock;
}

/** The phase of a release, as its knives, names and the clock say. */
export function phaseIn({ clock }: Looking, standing: Standing): ReleasePhase {
  const { release, knives } = standing;
  const now = clock.now();
  return phaseOf(
    {
      state: release.state,
      previewOn: release.preview_on,
      earlyFrom: release.early_from,
      earlyUntil: release.early_until,
    },
    { now, today: clock.today() },
    {
      toDraw: knives.some((knife) => goesByDraw(standing, knife.build_id, now)),
      allGone:
        knives.length > 0 && knives.every((knife) => knife.sale_id !== null || knife.withdrawn_on !== null),
    },
  );
}

export const phaseAt = (looking: Looking, release: ReleaseRecord): ReleasePhase =>
  phaseIn(looking, standingOf(looking.db, release));
