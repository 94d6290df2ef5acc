/**
 * The one door both hosts put in front of the core: it answers `host.*` itself, forwards the rest to the open
 * workshop, changes from the own workshop to the demo and back, and goes back to a safety copy.
 */
import { FaultError } from '../api/errors.ts';
import type { Fault, Reply } from '../api/errors.ts';
import { isEndpointName } from '../api/names.ts';
import type { EndpointName, HostEndpointName } from '../api/contract.ts';
import type { HandedOut, HostInfo } from '../api/host.ts';
import type { WorkshopPort } from '../api/port.ts';
import { archiveFile } from './archive-files.ts';
import type { WorkshopFolders } from './folders.ts';

export type WorkshopKind = keyof WorkshopFolders;

export interface SavedFile {
  readonly saved: boolean;
  readonly path?: string;
}

export interface SwitchOptions {
  readonly kind: HostInfo['kind'];
  readonly version: string;
  readonly folders: WorkshopFolders;
  readonly start: WorkshopKind;
  /** @param goBackTo name of a safety copy to put in the place of the books first */
  openWorkshop(which: WorkshopKind, goBackTo?: string): Promise<WorkshopPort>;
  /** Writes a file where the person chooses; absent on loopback, where the browser downloads. */
  saveFile?(name: string, bytes: Uint8Array): Promise<SavedFile>;
  /** Hands a file of the workshop folder out, at its full length. */
  handOut?(file: string, name: string): Promise<HandedOut>;
  /** Asks for a file and takes it in among the archives of the folder; absent on loopback, where the page sends it. */
  takeIn?(folder: string): Promise<string | null>;
}

export interface WorkshopSwitch extends WorkshopPort {
  info(): HostInfo;
}

const fail = (fault: Fault): Reply => ({ ok: false, fault });

const faultOf = (error: unknown): Fault =>
  error instanceof FaultError
    ? error.fault
    : {
        kind: 'internal',
        message: 'Something went wrong inside the program. Nothing was changed; please try again.',
      };

const unknownEndpoint = fail({
  kind: 'forbidden',
  message:
    'This version of the program does not know that request. Reload the page or start the program again.',
});

const badInput = fail({ kind: 'invalid', message: 'That request was not put together correctly.' });

/** Loaded with the first call the host answers itself: no start waits for the schema library. */
const schemas = async () => (await import('../api/host.ts')).hostEndpoints;

const save = async (options: SwitchOptions, input: unknown): Promise<SavedFile> => {
  const { name, base64 } = (await schemas())['host.saveFile'].input.parse(input);
  if (options.saveFile === undefined) {
    throw new FaultError({ kind: 'refused', message: 'In the browser a file is saved by downloading it.' });
  }
  return options.saveFile(name, Buffer.from(base64, 'base64'));
};

const handOut = async (options: SwitchOptions, folder: string, input: unknown): Promise<HandedOut> => {
  const { name } = (await schemas())['host.handOutArchive'].input.parse(input);
  const file = archiveFile(folder, name);
  if (options.handOut === undefined) {
    throw new FaultError({
      kind: 'refused',
      message: 'Archives lie in the workshop folder; fetch it there.',
    });
  }
  return options.handOut(file, name);
};

const takeIn = async (options: SwitchOptions, folder: string): Promise<{ name: string | null }> => {
  if (options.takeIn === undefined) {
    throw new FaultError({ kind: 'refused', message: 'In the browser the file is chosen on the page.' });
  }
  return { name: await options.takeIn(folder) };
};

/** Runs pieces of work one after another. */
const createTurns = (): (<T>(work: () => Promise<T>) => Promise<T>) => {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const mine = last.then(work, work);
    last = mine.catch(() => undefined);
    return mine;
  };
};

/** The workshop that is open now. */
interface OpenWorkshop {
  readonly which: WorkshopKind;
  readonly port: WorkshopPort;
  /** Newest journal position seen, for the answers the host gives by itself. */
  seq: number;
}

type Answers = Readonly<Record<HostEndpointName, (input: unknown) => Promise<unknown>>>;

/** Which workshop is open, and the ways to open another or other books. */
interface Workshops {
  readonly current: OpenWorkshop;
  info(): HostInfo;
  change(target: WorkshopKind): Promise<HostInfo>;
  goBack(name: string): Promise<HostInfo>;
}

const openFirst = async (options: SwitchOptions): Promise<Workshops> => {
  const open = async (which: WorkshopKind, goBackTo?: string): Promise<OpenWorkshop> => ({
    which,
    port: await options.openWorkshop(which, goBackTo),
    seq: 0,
  });
  let current = await open(options.start);
  const info = (): HostInfo => ({
    kind: options.kind,
    version: options.version,
    folder: options.folders[current.which],
    demo: current.which === 'demo',
  });
  return {
    get current() {
      return current;
    },
    info,
    async change(target) {
      if (target === current.which) return info();
      // The new one is opened first: when that fails, the old one simply stays open.
      const next = await open(target);
      const old = current;
      current = next;
      await old.port.close();
      return info();
    },
    async goBack(name) {
      const { which } = current;
      await current.port.close();
      try {
        current = await open(which, name);
      } catch (error) {
        // The copy could not be had: the books that are there go on.
        current = await open(which);
        throw error;
      }
      return info();
    },
  };
};

/** Opens the first workshop and answers the door to it. Throws what `openWorkshop` throws. */
export const openSwitch = async (options: SwitchOptions): Promise<WorkshopSwitch> => {
  const workshops = await openFirst(options);
  const inTurn = createTurns();
  /** Calls wait while the books are closed for a moment; settled when there is nothing to wait for. */
  let reopening: Promise<unknown> = Promise.resolve();

  const answers: Answers = {
    'host.info': () => Promise.resolve(workshops.info()),
    'host.openDemo': () => inTurn(() => workshops.change('demo')),
    'host.openOwn': () => inTurn(() => workshops.change('own')),
    'host.goBackTo': async (input) => {
      const { name } = (await schemas())['host.goBackTo'].input.parse(input);
      const done = inTurn(() => workshops.goBack(name));
      reopening = done.catch(() => undefined);
      return done;
    },
    'host.saveFile': (input) => save(options, input),
    'host.handOutArchive': (input) => handOut(options, workshops.info().folder, input),
    'host.takeInArchive': () => takeIn(options, workshops.info().folder),
  };

  const isOwn = (name: string): name is HostEndpointName => Object.hasOwn(answers, name);
  const call = async (endpoint: EndpointName, input: unknown): Promise<Reply> => {
    if (isOwn(endpoint)) {
      if (!(await schemas())[endpoint].input.safeParse(input).success) return badInput;
      const value = await answers[endpoint](input);
      return { ok: true, value, seq: workshops.current.seq };
    }
    await reopening;
    // Kept apart: an answer of a workshop that has been left says nothing about the one that is open then.
    const asked = workshops.current;
    const reply = await asked.port.call(endpoint, input);
    if (reply.ok) asked.seq = Math.max(asked.seq, reply.seq);
    return reply;
  };

  return {
    info: () => workshops.info(),
    call: (endpoint, input) =>
      isEndpointName(endpoint)
        ? call(endpoint, input).catch((error: unknown) => fail(faultOf(error)))
        : Promise.resolve(unknownEndpoint),
    close: () => inTurn(() => workshops.current.port.close()),
  };
};
