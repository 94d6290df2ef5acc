/** For files that are only held against their hash. */
import { Writable } from 'node:stream';

/** Takes everything and keeps nothing. */
export const nowhere = (): Writable =>
  new Writable({
    write: (_piece, _encoding, done) => done(),
  });
