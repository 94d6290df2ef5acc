/** What may be written after `npm start --`. */
import { PlainFailure } from './say.mjs';

export const startHelp = `Usage: npm start [-- options]

  --demo            open the invented demo workshop instead of your own
  --data FOLDER     keep (or find) the workshop in this folder
  --no-open         open no window; print the address to open
  --host desktop    insist on the desktop window
  --host loopback   open in the browser even where the desktop window could open
  --help            this text`;

/**
 * @typedef {object} StartFlags
 * @property {boolean} help
 * @property {'desktop' | 'loopback' | undefined} host which host is insisted on
 * @property {boolean} noOpen
 * @property {string[]} passedOn what the host itself is given
 */

/** @param {string} message */
const wrongUse = (message) => new PlainFailure(`${message}\n\n${startHelp}`, 2);

/** @param {string} flag @param {string | undefined} value */
const valueOf = (flag, value) => {
  if (value === undefined || value === '' || value.startsWith('--')) {
    throw wrongUse(`${flag} needs a value after it.`);
  }
  return value;
};

/** @param {string} value @returns {'desktop' | 'loopback'} */
const hostOf = (value) => {
  if (value !== 'desktop' && value !== 'loopback') {
    throw wrongUse(`--host must be desktop or loopback, not “${value}”.`);
  }
  return value;
};

/**
 * Reads the words after `npm start --`.
 * @param {readonly string[]} words
 * @returns {StartFlags}
 * @throws {PlainFailure} exit code 2, for an unknown word or a missing value
 */
export const parseStartFlags = (words) => {
  /** @type {StartFlags} */
  const flags = { help: false, host: undefined, noOpen: false, passedOn: [] };
  // `--data=FOLDER` means the same as `--data FOLDER`.
  const rest = words.flatMap((word) => {
    const parts = /^(--(?:data|host))=(.*)$/s.exec(word);
    return parts === null ? [word] : [parts[1] ?? '', parts[2] ?? ''];
  });
  while (rest.length > 0) {
    const word = rest.shift() ?? '';
    if (word === '--help' || word === '-h') flags.help = true;
    else if (word === '--demo') flags.passedOn.push(word);
    else if (word === '--data') flags.passedOn.push(word, valueOf(word, rest.shift()));
    else if (word === '--host') flags.host = hostOf(valueOf(word, rest.shift()));
    else if (word === '--no-open') {
      flags.noOpen = true;
      flags.passedOn.push(word);
    } else throw wrongUse(`“${word}” is not known here.`);
  }
  if (flags.noOpen && flags.host === 'desktop') {
    throw wrongUse('--no-open and --host desktop contradict each other.');
  }
  return flags;
};
