/**
 * Makes the demo workshop: replays an invented workshop's eighteen months through the same contract a person uses.
 * Nothing is written but by use-cases, so everything the books promise holds for the demo too.
 */
import type { WorkshopPort } from '../api/port.ts';
import { shareBelts } from './belts.ts';
import { countYears, measureSheets } from './counting.ts';
import { askThrough } from './desk.ts';
import type { Ledger } from './ledger.ts';
import { tellPreparer } from './preparer.ts';
import { quoteSome } from './quoting.ts';
import { stepsThrough } from './replay.ts';
import { setUpHouse } from './set-up.ts';
import { askAtGates } from './targets.ts';
import { tryOut } from './trying.ts';

export interface DemoProgress {
  readonly done: number;
  readonly total: number;
  /** In words, for a person who waits. */
  readonly sentence: string;
}

const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];
const monthName = (day: string): string => months[Number(day.slice(5, 7)) - 1] ?? day;

/**
 * Fills an empty workshop with the demo workshop's books.
 * @param port an open workshop that is not set up yet; its clock must stand after `through`
 * @param through last day replayed
 * @throws FaultError when the workshop refuses a step; what came before stays in the books
 */
export async function generateDemo(
  port: WorkshopPort,
  through: '2024-12-31' | '2025-12-31',
  onProgress?: (progress: DemoProgress) => void,
): Promise<void> {
  const ask = askThrough(port);
  const steps = stepsThrough(through);
  const total = steps.length + 1;
  onProgress?.({ done: 0, total, sentence: 'Setting up the demo workshop' });
  const ledger: Ledger = {
    ask,
    house: await setUpHouse(ask),
    buildIds: new Map(),
    lotIds: new Map(),
    left: new Map(),
    owed: new Map(),
    belts: new Map(),
    recipes: new Map(),
    heatIds: new Map(),
    pictures: new Map(),
  };
  await askAtGates(ask, ledger.house);
  for (const [at, step] of steps.entries()) {
    onProgress?.({
      done: at + 1,
      total,
      sentence: `Demo workshop: ${monthName(step.on)} ${step.on.slice(0, 4)}`,
    });
    await step.run(ledger);
  }
  await shareBelts(ask, ledger.belts.values());
  await tryOut(ask, ledger.house);
  await countYears(ask, through);
  await measureSheets(ledger, through);
  if (through === '2025-12-31') {
    await quoteSome(ask, ledger.house);
    await tellPreparer(ask);
  }
  onProgress?.({ done: total, total, sentence: 'The demo workshop is ready' });
}
