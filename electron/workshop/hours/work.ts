/** What a session may say: a stage with knives, or work that belongs to no knife. */
import type { WorkKind } from '../../api/hours.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type KnifeRecord, knivesById, listStages, makingState } from '../../storage/queries/hours.ts';

/** Words for the work that belongs to no knife, as they stand in a sentence. */
export const workWords: Readonly<Record<WorkKind, string>> = {
  content: 'photos and writing',
  messages: 'messages',
  cleaning: 'cleaning',
  machines: 'machine care',
  service: 'service',
  buying: 'buying',
  other: 'other work',
};

export interface Work {
  readonly stageCode: string | null;
  readonly workKind: WorkKind | null;
  /** The making the time went into, instead of knives; null for none. */
  readonly makingId: string | null;
}

const ended: Readonly<Record<string, string>> = {
  done: 'is finished: its hours are shared over what came out of it. Take it up again first, or book them on a knife',
  scrapped: 'was scrapped. Book the hours as other work',
};

/** @throws FaultError unless the making is there and still open */
export function demandOpenMaking(db: ReadDb, id: string): void {
  const making = makingState(db, id);
  if (!making) throw invalid('This making is not in the books. Choose it again.', 'makingId');
  const why = ended[making.state];
  if (why !== undefined) throw refused(`${making.title} ${why}.`, 'makingId');
}

/**
 * Checks what was worked on and for which knives.
 * @throws FaultError when neither or both are given, the stage is unknown or a wait, or the knives do not fit
 */
export function checkWork(
  db: ReadDb,
  work: Work,
  buildIds: readonly string[],
  knivesField: string,
): KnifeRecord[] {
  if ((work.stageCode === null) === (work.workKind === null)) {
    throw invalid('Choose either a stage or the kind of other work.', 'stageCode');
  }
  if (work.stageCode === null) {
    if (buildIds.length > 0)
      throw invalid(
        'This kind of work belongs to no knife. Choose a stage, or take the knives out.',
        knivesField,
      );
    if (work.makingId !== null)
      throw invalid('Work on a making needs a stage. Choose one, or take the making out.', 'stageCode');
    return [];
  }
  checkStage(db, work.stageCode);
  if (work.makingId !== null) {
    if (buildIds.length > 0)
      throw invalid('This time goes either to a making or to knives. Take one of them out.', knivesField);
    demandOpenMaking(db, work.makingId);
    return [];
  }
  if (buildIds.length === 0) throw invalid('Choose the knives this time was for.', knivesField);
  if (new Set(buildIds).size !== buildIds.length)
    throw invalid('A knife is named twice. Name each once.', knivesField);
  const knives = knivesById(db, buildIds);
  if (knives.length !== buildIds.length)
    throw invalid('One of the knives is not in the books. Choose it again.', knivesField);
  return knives;
}

function checkStage(db: ReadDb, code: string): void {
  const stage = listStages(db).find((each) => each.code === code);
  if (!stage) throw invalid(`There is no stage ${code}. Choose one from the list.`, 'stageCode');
  if (stage.attended === 0) {
    throw invalid(`${stage.name} is a wait, not work at the bench: no hours are booked on it.`, 'stageCode');
  }
}
