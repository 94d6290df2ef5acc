/** The three things done with an archive: written, looked into, brought in. */
import fs from 'node:fs';
import Database from 'better-sqlite3';
import { examineOpen } from '../examine.ts';
import type { WorkshopFolder } from '../folder.ts';
import { addFunctions } from '../functions.ts';
import type { Migration } from '../migrate.ts';
import { setHarmlessPragmas } from '../pragmas.ts';
import { StorageTrouble } from '../trouble.ts';
import { bringIn } from './bring.ts';
import { nowhere } from './nowhere.ts';
import { type OpenArchive, openArchive } from './read.ts';
import { rebuildBooks } from './rebuild.ts';
import type { ArchiveResult, Todo } from './slot.ts';
import { writeArchive, type WriteOrder } from './write.ts';

/** What the work needs from the house. */
export interface TaskOptions {
  readonly folder: WorkshopFolder;
  readonly migrations: readonly Migration[];
  /** UTC ISO instant. */
  now(): string;
  /** Copies the open books into a new file. */
  copyTo(file: string): Promise<void>;
  readonly readme: WriteOrder['readme'];
  /** Looks into the books of an archive that is checked. */
  inspect(db: Database.Database): unknown;
}

/** Room left over on the disk after anything that is written. */
const SPARE_BYTES = 32 << 20;

const inMb = (bytes: number): string => `${Math.ceil(bytes / 1e6)} MB`;

/** @throws StorageTrouble `full` when the disk has not that much room */
export function demandRoom(folder: WorkshopFolder, bytes: number): void {
  const { bavail, bsize } = fs.statfsSync(folder.root);
  const wanted = bytes + SPARE_BYTES;
  if (bavail * bsize >= wanted) return;
  throw new StorageTrouble(
    'full',
    `This may need ${inMb(wanted)}, and the disk of the workshop folder has ${inMb(bavail * bsize)} free. Make room and try again; nothing was changed.`,
  );
}

/** Opens finished books for reading only. */
function openCopy(file: string): Database.Database {
  const db = new Database(file, { readonly: true, fileMustExist: true });
  setHarmlessPragmas(db);
  addFunctions(db);
  return db;
}

/** Makes a file of books, uses it, and leaves nothing of it behind. */
async function withBooks<T>(
  file: string,
  make: () => Promise<void>,
  use: (db: Database.Database) => Promise<T>,
): Promise<T> {
  fs.rmSync(file, { force: true });
  try {
    await make();
    const db = openCopy(file);
    try {
      return await use(db);
    } finally {
      db.close();
    }
  } finally {
    fs.rmSync(file, { force: true });
  }
}

async function withArchive(
  file: string,
  use: (archive: OpenArchive) => Promise<Pick<ArchiveResult, 'copy' | 'found'>>,
) {
  const archive = await openArchive(file);
  try {
    const { files: _files, ...head } = archive.manifest;
    return { head, bytes: fs.statSync(file).size, ...(await use(archive)) };
  } finally {
    archive.close();
  }
}

/** Writes everything into a new archive, from a copy of the books as they stand now. */
export const takeOut =
  (options: TaskOptions, file: string): Todo =>
  (watch) =>
    withBooks(
      `${file}.books`,
      () => options.copyTo(`${file}.books`),
      async (db) => {
        const finding = examineOpen(db, 'quick');
        if (!finding.sound) {
          throw new StorageTrouble(
            'damaged',
            `The books could not be read whole (${finding.problem}). Go back to a safety copy first.`,
          );
        }
        const { folder, readme } = options;
        const head = await writeArchive(file, { db, root: folder.root, at: options.now(), readme, ...watch });
        return { head, bytes: fs.statSync(file).size, copy: null, found: null };
      },
    );

/** Holds every file of an archive against its hash, makes its books and looks into them; changes nothing. */
export const lookInto =
  (options: TaskOptions, file: string): Todo =>
  (watch) =>
    withArchive(file, async (archive) => {
      const rest = archive.manifest.files.filter((each) => !/^tables\/.*\.json$/.test(each.path));
      const found = await withBooks(
        `${file}.books`,
        () => rebuildBooks(archive, `${file}.books`, options.migrations, watch),
        async (db) => {
          for (const each of rest) await archive.send(each, nowhere(), watch.signal, watch.onBytes);
          return options.inspect(db);
        },
      );
      return { copy: null, found };
    });

/** Brings everything of an archive into the workshop folder, its books as a safety copy. */
export const bringAll =
  (options: TaskOptions, file: string): Todo =>
  (watch) =>
    withArchive(file, async (archive) => {
      const { folder, migrations } = options;
      demandRoom(
        folder,
        archive.manifest.files.reduce((sum, each) => sum + each.bytes, 0),
      );
      const copy = await bringIn(archive, { folder, migrations, at: options.now(), watch });
      return { copy: copy.name, found: null };
    });
