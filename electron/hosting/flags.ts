/** The words that may follow the start command. */
import { parseArgs } from 'node:util';

export interface HostFlags {
  /** Workshop folder as typed. */
  readonly data?: string;
  readonly demo: boolean;
  /** Print the address instead of opening a browser. */
  readonly noOpen: boolean;
  /** Loopback port; 0 lets the system choose. */
  readonly port: number;
  /** Stop once every tab has been closed. */
  readonly stopWhenIdle: boolean;
  /** How long after the last tab was closed. */
  readonly idleSeconds: number;
}

export type FlagsResult =
  { readonly ok: true; readonly flags: HostFlags } | { readonly ok: false; readonly message: string };

const wholeNumber = (text: string, most: number): number | undefined => {
  const value = /^\d{1,6}$/.test(text) ? Number(text) : Number.NaN;
  return value <= most ? value : undefined;
};

const options = {
  data: { type: 'string' },
  demo: { type: 'boolean', default: false },
  'no-open': { type: 'boolean', default: false },
  port: { type: 'string', default: '0' },
  'stop-when-idle': { type: 'boolean', default: false },
  'idle-seconds': { type: 'string', default: '90' },
} as const;

const refuse = (message: string): FlagsResult => ({ ok: false, message });

/** Reads the command line; a word it does not know is an error with a sentence. */
export const parseFlags = (argv: readonly string[]): FlagsResult => {
  let values;
  try {
    ({ values } = parseArgs({ args: [...argv], options, strict: true, allowPositionals: false }));
  } catch (error) {
    const said = error instanceof Error ? (error.message.split('. ')[0] ?? '') : '';
    return refuse(
      `${said}. Known are --data DIR, --demo, --no-open, --port N, --stop-when-idle, --idle-seconds N.`,
    );
  }
  const port = wholeNumber(values.port, 65_535);
  if (port === undefined)
    return refuse('--port takes a whole number from 0 to 65535; leave it out to let the system choose.');
  const idleSeconds = wholeNumber(values['idle-seconds'], 86_400);
  if (idleSeconds === undefined || idleSeconds === 0)
    return refuse('--idle-seconds takes a whole number from 1 to 86400.');
  if (values.data === '') return refuse('--data takes the folder of the workshop.');
  const flags: HostFlags = {
    ...(values.data === undefined ? {} : { data: values.data }),
    demo: values.demo,
    noOpen: values['no-open'],
    port,
    // A host that opened the browser itself goes away with it; one that was only asked for an address stays.
    stopWhenIdle: values['stop-when-idle'] || !values['no-open'],
    idleSeconds,
  };
  return { ok: true, flags };
};
