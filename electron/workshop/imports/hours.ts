/** Hours from a file: one session a line. */
import type { WorkKind } from '../../api/hours.ts';
import { minutesText } from '../../domain/durations.ts';
import { allKnives, type KnifeRecord, listStages } from '../../storage/queries/hours.ts';
import { addSession } from '../hours/book.ts';
import { chooseWork } from '../hours/read-guess.ts';
import { readKnives } from '../hours/read-knives.ts';
import type { Line } from './cells.ts';
import { plainHeading } from './fields.ts';
import { noting, type PlanContext, type Planner } from './plan.ts';

export interface HoursLine {
  readonly on: string;
  readonly minutes: number;
  readonly stageCode: string | null;
  readonly workKind: WorkKind | null;
  readonly workName: string;
  readonly knives: readonly KnifeRecord[];
  readonly note: string;
}

/** A heading such as “Minutes” or “Hours” says what a bare number means. */
function bareUnit(heading: string): 'min' | 'h' | undefined {
  const words = plainHeading(heading).split(' ');
  if (words.some((word) => /^(?:m|min|mins|minutes?)$/.test(word))) return 'min';
  return words.some((word) => /^(?:h|hrs?|hours?)$/.test(word)) ? 'h' : undefined;
}

function knivesOn(line: Line, knives: readonly KnifeRecord[]): readonly KnifeRecord[] | null {
  const typed = line.text('knives');
  if (typed === '') return [];
  const read = noting(line, 'knives', () => readKnives(typed.split(/[\s;]+/), knives));
  if (!read) return null;
  if (read.rest.length > 0)
    return line.problem('knives', `There is no knife ${read.rest.join(' ')} in the books. Check the serial.`);
  return read.knives;
}

/** Reads and books hours. @param timeHeading heading of the column with the time */
export function hoursPlanner(ctx: PlanContext, timeHeading: string): Planner<HoursLine> {
  const stages = listStages(ctx.db);
  const knives = allKnives(ctx.db);
  const today = ctx.clock.today();
  const bare = bareUnit(timeHeading);
  return {
    read(line) {
      const on = line.date('date', today);
      const minutes = line.minutes('time', bare);
      const named = knivesOn(line, knives);
      const typed = line.required('work', 'The work');
      if (typed === null || !named) return null;
      const work = noting(line, 'work', () => chooseWork(typed, stages, named.length > 0));
      if (on === null || minutes === null || !work) return null;
      return {
        on,
        minutes,
        stageCode: work.stage?.code ?? null,
        workKind: work.kind ?? null,
        workName: work.name,
        knives: named,
        note: line.text('note'),
      };
    },
    words: ({ on, minutes, workName, knives: named }) =>
      `${on}: ${minutesText(minutes)} of ${workName}${named.length === 0 ? '' : ` on ${named.map((knife) => knife.serial).join(', ')}`}`,
    wouldMake: () => [],
    prepare: (_ctx, lines) =>
      Promise.resolve((run) => {
        for (const { on, minutes, stageCode, workKind, note, knives: named } of lines) {
          const shares = named.map((knife) => ({ buildId: knife.id, weight: 1 }));
          const work = { on, minutes, stageCode, workKind, note, startedAt: null, endedAt: null, shares };
          const entry = { ...work, personId: null, makingId: null, setupMinutes: 0 };
          addSession(run, entry, { version: 1, source: 'import', reason: '' });
        }
        return { booked: lines.length, made: 0 };
      }),
  };
}
