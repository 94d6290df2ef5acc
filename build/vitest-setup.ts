/** Runs in every test file before its tests. */
import fc from 'fast-check';

const seed = Number(process.env['KNIFEWRIGHT_SEED']);
if (Number.isSafeInteger(seed)) fc.configureGlobal({ seed });
