/** The archives of an open workshop, with what explains them and what looks into them. */
import type { SealFound } from '../../api/seals.ts';
import { type ArchiveKeeper, keepArchives } from '../../storage/archive/keeper.ts';
import type { Books } from '../../storage/books.ts';
import type { Migration } from '../../storage/migrate.ts';
import { askingFile } from '../../storage/seal/ask.ts';
import { proofSteps, sealRows } from '../../storage/seal/prove.ts';
import type { Clock } from '../context.ts';
import { toFound } from '../seals/views.ts';
import { inTurns } from '../year/steps.ts';
import { archiveReadme } from './readme.ts';

/** Makes the keeper; nothing is read or written yet. */
export const keeperOf = (books: Books, migrations: readonly Migration[], clock: Clock): ArchiveKeeper =>
  keepArchives({
    folder: books.folder,
    migrations,
    now: () => clock.now(),
    copyTo: (file) => books.copyTo(file),
    readme: archiveReadme,
    async inspect(db) {
      const ask = askingFile(db);
      const sealed = ask(`SELECT 1 FROM sqlite_master WHERE name = 'year_seals'`).length > 0;
      const found: SealFound[] = [];
      for (const row of sealed ? sealRows(ask) : []) found.push(toFound(await inTurns(proofSteps(ask, row))));
      return found;
    },
  });
