/** The workshop core: checks what comes in, runs queries at once and commands one after another. */
import { migrations as ownMigrations } from '../../migrations/index.ts';
import type { Endpoint } from '../api/endpoint.ts';
import { type Fault, FaultError, type Reply } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import type { SafetyCopy } from '../api/workshop.ts';
import { isTrue, type SafetyCopyRecord } from '../storage/backups.ts';
import { type Books, open, type OpeningOptions } from '../storage/books.ts';
import type { ArchiveKeeper } from '../storage/archive/keeper.ts';
import { openFiles } from '../storage/files.ts';
import { type WorkshopFolder, workshopFolder } from '../storage/folder.ts';
import { hold } from '../storage/holder.ts';
import { type Migration, newestShape } from '../storage/migrate.ts';
import { createBooks, hasBooks, type OpenOptions } from '../storage/open.ts';
import { restoreCopy } from '../storage/restore.ts';
import type { Clock, CommandHandler, House, QueryContext, QueryHandler, Renderer } from './context.ts';
import { failed, type Log, toFault } from './core-faults.ts';
import { checkInput } from './core-input.ts';
import { inTurn } from './core-queue.ts';

/** A table of handlers by endpoint name; `Handlers` is the full one, typed by the contract. */
export type HandlerTable = Readonly<
  Record<string, QueryHandler<never, unknown> | CommandHandler<never, unknown>>
>;

export interface CoreOptions {
  /** The workshop folder. */
  readonly folder: string;
  /** Make a new workshop when the folder has none yet. Never makes one over anything. */
  readonly create: boolean;
  readonly clock: Clock;
  readonly newId: () => string;
  readonly renderer: Renderer;
  /** As a person would call this program, e.g. "Knifewright in the browser"; also who the journal names. */
  readonly holderName: string;
  /** The use-cases, or how to load them: opening does not wait for them, the first call does. */
  readonly handlers: HandlerTable | (() => Promise<HandlerTable>);
  /** `desktop`, `loopback`, …: told to a second program that finds the folder taken. */
  readonly hostKind?: string;
  /** UTC ISO instant told to a second program, where the workshop's own clock is not the machine's. */
  readonly heldSince?: string;
  readonly demo?: boolean;
  /** Name of a safety copy to go back to before opening; the present books are kept beside the copies. */
  readonly goBackTo?: string;
  /** For tests: another list of endpoints or of migrations. */
  readonly contract?: Readonly<Record<string, Endpoint>>;
  readonly migrations?: readonly Migration[];
  readonly log?: Log;
  /** Called once the books stand open: the answer to whoever waits for a start. Calls may already be made. */
  readonly onOpen?: () => void;
}

/** The core behind its port, with its books open to tests. */
export interface Core extends WorkshopPort {
  readonly books: Books;
}

const unknownRequest: Fault = {
  kind: 'forbidden',
  message: 'The workshop does not know this request. Reload the page.',
};
const beingClosed: Fault = {
  kind: 'storage',
  message: 'The workshop is being closed. Open it again to go on.',
};

const logToConsole: Log = (line) => {
  console.error(line);
};

const asSafetyCopy = (record: SafetyCopyRecord): SafetyCopy => {
  const { name, at, bytes, sha256, reason, seq, heldAgainst } = record;
  const verified = isTrue(record);
  const changed =
    heldAgainst === undefined || verified
      ? null
      : { from: heldAgainst.name, since: heldAgainst.at, count: heldAgainst.count, rows: heldAgainst.rows };
  return { name, at, bytes, sha256, verified, changed, reason, seq };
};

/** Puts a safety copy in the place of the books, with the folder held meanwhile. */
function goBack(folder: WorkshopFolder, { holder, now, migrations }: OpenOptions, name: string): void {
  const held = hold(folder, holder);
  try {
    restoreCopy(folder, name, { at: now, newest: newestShape(migrations) });
  } finally {
    held.release();
  }
}

/** The archives of the folder, loaded when somebody asks for them. */
interface Archives {
  get(): Promise<ArchiveKeeper>;
  /** Ends what runs, if anything was ever begun. */
  stop(): Promise<void>;
}

function laterArchives(options: CoreOptions, books: Books): Archives {
  let keeper: Promise<ArchiveKeeper> | undefined;
  return {
    get() {
      keeper ??= import('./archive/keeper.ts').then(({ keeperOf }) =>
        keeperOf(books, options.migrations ?? ownMigrations, options.clock),
      );
      return keeper;
    },
    stop: async () => (await keeper)?.cancel(),
  };
}

async function openFolder(options: CoreOptions): Promise<Books> {
  const folder = workshopFolder(options.folder);
  const now = options.clock.now();
  const since = options.heldSince ?? now;
  const opening: OpeningOptions = {
    migrations: options.migrations ?? ownMigrations,
    holder: { name: options.holderName, kind: options.hostKind ?? 'core', pid: process.pid, since },
    now,
    ...(options.onOpen === undefined ? {} : { onOpen: options.onOpen }),
  };
  try {
    if (options.goBackTo !== undefined) goBack(folder, opening, options.goBackTo);
    if (options.create && !hasBooks(folder)) createBooks(folder, opening);
    return await open(folder, opening);
  } catch (error) {
    throw new FaultError(toFault(error, 'opening', options.log ?? logToConsole));
  }
}

function makeContext(options: CoreOptions, books: Books, archives: Archives): Omit<QueryContext, 'db'> {
  const house: House = {
    demo: options.demo ?? false,
    copies: () => books.copies().map(asSafetyCopy),
    copyNow: async () => asSafetyCopy(await books.copyNow(options.clock.now(), 'asked')),
    archives: () => archives.get(),
  };
  return {
    clock: options.clock,
    files: openFiles(books.folder, books.papers),
    renderer: options.renderer,
    house,
  };
}

/** Work on the files of papers that may fail: the bytes stay in the books, and the next opening tries again. */
function quietly(work: () => void, options: CoreOptions): void {
  try {
    work();
  } catch (error) {
    toFault(error, 'papers', options.log ?? logToConsole);
  }
}

const isCommand = (handler: HandlerTable[string]): handler is CommandHandler<never, unknown> =>
  typeof handler !== 'function';

interface Command {
  readonly name: string;
  readonly endpoint: Endpoint;
  readonly handler: CommandHandler<never, unknown>;
  readonly input: unknown;
}

/** Runs single calls whose input has been checked. Commands never overlap: the queue lets one in at a time. */
function runner(options: CoreOptions, books: Books, archives: Archives) {
  const base = makeContext(options, books, archives);
  const common = { ...base, newId: options.newId };
  return {
    async query(handler: QueryHandler<never, unknown>, input: unknown): Promise<Reply> {
      const seq = books.seq();
      return { ok: true, value: await handler({ ...base, db: books.read }, input as never), seq };
    },
    async command({ name, endpoint, handler, input }: Command, rooms: Rooms): Promise<Reply> {
      const given = input as never;
      rooms.demandOpenDays({ db: books.read, clock: options.clock }, { name, endpoint, input });
      const prepared = await handler.prepare?.({ ...common, db: books.unwritable }, given);
      const entry = { at: options.clock.now(), who: options.holderName, command: name, input };
      const value = books.write(entry, (db) => {
        const answer = handler.run({ ...common, db }, given, prepared);
        if (answer instanceof Promise) throw new Error(`${name} must write in one go, without waiting`);
        return answer;
      });
      // The paper is safe in the books; that its file could not be written is no reason to refuse the command.
      quietly(() => books.papers.writeOut(), options);
      return { ok: true, value, seq: books.seq() };
    },
  };
}

interface Rooms {
  readonly demandOpenDays: typeof import('./closed/demand-open.ts').demandOpenDays;
  readonly contract: Readonly<Record<string, Endpoint>>;
  readonly handlers: HandlerTable;
}

/** Loads schemas and use-cases once the books are open: nobody who waits for a start waits for them. */
async function loadRooms(options: CoreOptions): Promise<Rooms> {
  // First whoever waits for the opening hears that it is done.
  await new Promise((resolve) => setImmediate(resolve));
  const contract = options.contract ?? (await import('../api/contract.ts')).coreEndpoints;
  const { handlers } = options;
  const { demandOpenDays } = await import('./closed/demand-open.ts');
  return {
    demandOpenDays,
    contract,
    handlers: typeof handlers === 'function' ? await handlers() : handlers,
  };
}

/**
 * Opens the workshop in a folder and answers its contract.
 * @throws FaultError of kind `storage` when the folder cannot be opened; its sentence says what to do
 */
export async function createCore(options: CoreOptions): Promise<Core> {
  const log = options.log ?? logToConsole;
  const books = await openFolder(options);
  const loading = loadRooms(options);
  const archives = laterArchives(options, books);
  const run = runner(options, books, archives);
  const queue = inTurn();
  // Papers a crash left without a sound file are written again once everything is loaded; nobody waits for it.
  const settle = (): Promise<void> => queue.add(() => quietly(() => books.papers.settle(), options));
  // A failure belongs to the calls that wait for it; unheard it must not end the thread.
  loading.then(settle).catch(() => undefined);
  /** Calls that were let in and still owe an answer; closing waits for them. */
  const underWay = new Set<Promise<Reply>>();
  let closed: Promise<void> | undefined;

  // After the answer has gone out, so that no command waits for it; a full disk here costs nothing but room.
  const foldLater = (): void => {
    queue.add(() => books.foldIfGrown()).catch((error: unknown) => toFault(error, 'folding', log));
  };
  const answer = async (name: string, input: unknown): Promise<Reply> => {
    const rooms = await loading;
    const { contract, handlers } = rooms;
    const endpoint = Object.hasOwn(contract, name) ? contract[name] : undefined;
    if (!endpoint) return failed(unknownRequest);
    const checked = checkInput(endpoint, input);
    if (!checked.ok) return failed(checked.fault);
    const handler = handlers[name];
    if (!handler) throw new Error('the contract has it, but nothing answers it');
    if (!isCommand(handler)) return run.query(handler, checked.input);
    const command = { name, endpoint, handler, input: checked.input };
    const reply = await queue.add(() => run.command(command, rooms));
    setImmediate(foldLater);
    return reply;
  };

  return {
    books,
    async call(name, input) {
      if (closed) return failed(beingClosed);
      const mine = answer(name, input).catch((error: unknown) => failed(toFault(error, name, log)));
      underWay.add(mine);
      const reply = await mine;
      underWay.delete(mine);
      return reply;
    },
    close() {
      closed ??= Promise.all([...underWay, archives.stop()])
        .then(() => queue.add(() => books.close(options.clock.now())))
        .catch((error: unknown) => {
          throw new FaultError(toFault(error, 'closing', log));
        });
      return closed;
    },
  };
}
