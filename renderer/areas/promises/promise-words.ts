/** Words of promises. */
import type { PromiseRow } from '../../../electron/api/promises.ts';

/** How a promise stands. */
export const stateWords: Readonly<Record<PromiseRow['state'], string>> = {
  safe: 'safe',
  atRisk: 'at risk',
  late: 'late',
  notPromised: 'not promised',
};

/** What a row is about. */
export const whatText = (row: PromiseRow): string => {
  if (row.kind === 'new') return `A new ${row.modelName}`;
  if (row.kind === 'order') return `${row.modelName === '' ? 'A knife' : row.modelName}, not begun`;
  return `${row.serial ?? ''} ${row.modelName}`;
};
