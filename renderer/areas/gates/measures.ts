/** Every gate in the order a blade meets it; the contract's own list is not loaded on the page. */
import type { Measure } from '../../../electron/api/gates.ts';
import { measureWords } from '../../../electron/domain/gates.ts';

export const measures = Object.keys(measureWords) as readonly Measure[];
