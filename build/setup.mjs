/** Everything that must be there before Knifewright can be built, tested or started. */
import { ensurePackages } from './packages.mjs';
import { underNewEnoughNode } from './runtime.mjs';

/**
 * Runs a command of the project after setting up what it needs.
 * @param {string} script the command's own file, run again under a newer Node where this one is too old
 * @param {() => Promise<number>} command answers the exit code
 * @returns {Promise<number>} the exit code
 */
export const withSetup = async (script, command) => {
  const elsewhere = await underNewEnoughNode(script);
  if (elsewhere !== undefined) return elsewhere;
  await ensurePackages();
  return command();
};
