/** Progress and messages of the set-up, in plain words. */

/** Prints one progress line. @param {string} text */
export const say = (text) => {
  process.stdout.write(`${text}\n`);
};

/** Prints one headline that sets a step apart. @param {string} text */
export const headline = (text) => {
  say(`\n== ${text}`);
};

/** A failure that a person can act on; its message is all that is shown. */
export class PlainFailure extends Error {
  /** @param {string} message @param {number} [exitCode] */
  constructor(message, exitCode = 1) {
    super(message);
    this.name = 'PlainFailure';
    this.exitCode = exitCode;
  }
}

/**
 * Runs a command's main function: a plain failure is shown as its sentence, anything else with its trace.
 * @param {() => Promise<number>} main answers the exit code
 */
export const runMain = async (main) => {
  try {
    process.exitCode = await main();
  } catch (error) {
    if (error instanceof PlainFailure) {
      process.stderr.write(`${error.message}\n`);
      process.exitCode = error.exitCode;
      return;
    }
    throw error;
  }
};

/** Addresses in a program's output are of no use to the reader and may be private. @param {string} text */
export const withoutAddresses = (text) => text.replace(/\b[a-z]+:\/\/\S+/gi, '(address)');
