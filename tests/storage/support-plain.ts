/** Parts of the test support that also run outside the test runner. */
import type { Holder } from '../../electron/storage/holder.ts';

export const holder: Holder = {
  name: 'Test bench',
  kind: 'test',
  pid: process.pid,
  since: '2024-07-06T09:30:00.000Z',
};

/** A paper of some pages. */
export const paperText = (n: number): string => `paper ${n} ${'p'.repeat(40_000)}`;
