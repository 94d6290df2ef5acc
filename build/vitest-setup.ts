/** Runs in every test file before its tests. */
import fc from 'fast-check';
import { afterAll } from 'vitest';
import { removeFolders } from '../tests/folders.ts';

const seed = Number(process.env['KNIFEWRIGHT_SEED']);
if (Number.isSafeInteger(seed)) fc.configureGlobal({ seed });

afterAll(removeFolders);
