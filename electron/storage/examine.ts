/** Whether a file is sound, found out without writing to it. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import Database from 'better-sqlite3';
import { APPLICATION_ID } from './header.ts';
import { type ChainCheck, checkChain, checkHead, type JournalHead } from './journal.ts';
import { shapeOf } from './migrate.ts';
import { setHarmlessPragmas } from './pragmas.ts';
import { asTrouble } from './trouble.ts';

/** How closely to look: `quick` at every open, `full` for every safety copy. */
export type Depth = 'quick' | 'full';

/** What was found: sound with its journal position, or a short technical reason why not. */
export type Finding =
  | { readonly sound: true; readonly shape: number; readonly head: JournalHead }
  | { readonly sound: false; readonly problem: string };

const unsound = (problem: string): Finding => ({ sound: false, problem });

function findPageProblem(db: Database.Database, depth: Depth): string | undefined {
  const check = depth === 'full' ? 'integrity_check(1)' : 'quick_check(1)';
  const answer = String(db.pragma(check, { simple: true }));
  if (answer !== 'ok') return answer;
  if (depth === 'full' && db.prepare('PRAGMA foreign_key_check').all().length > 0)
    return 'a row points to nothing';
  return undefined;
}

function chainProblem(check: ChainCheck): string | undefined {
  return check.sound ? undefined : `journal entry ${check.seq}: ${check.problem}`;
}

/** Examines an open connection. Reads only. */
export function examineOpen(db: Database.Database, depth: Depth): Finding {
  try {
    if (Number(db.pragma('application_id', { simple: true })) !== APPLICATION_ID)
      return unsound('not marked as books');
    const pages = findPageProblem(db, depth);
    if (pages !== undefined) return unsound(pages);
    const chain = depth === 'full' ? checkChain(db) : checkHead(db);
    if (!chain.sound) return unsound(chainProblem(chain) ?? '');
    return { sound: true, shape: shapeOf(db), head: chain.head };
  } catch (error) {
    if (asTrouble(error)?.why === 'damaged')
      return unsound(error instanceof Error ? error.message : String(error));
    throw error;
  }
}

/** Examines a finished file (a safety copy) in full, opened for reading only. */
export function examineFile(file: string): Finding {
  const db = new Database(file, { readonly: true, fileMustExist: true });
  try {
    setHarmlessPragmas(db);
    return examineOpen(db, 'full');
  } catch (error) {
    if (asTrouble(error)?.why === 'damaged') return unsound(String(error));
    throw error;
  } finally {
    db.close();
  }
}

/** The file and what SQLite may keep beside it. */
export const companions = ['', '-wal', '-shm', '-journal'] as const;

/**
 * Examines books that a crash left with unfinished companions, on a copy, because opening the original
 * would already fold them in. The process must not have the original open.
 */
export function examineCopyOf(file: string): Finding {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'knifewright-look-'));
  try {
    const copy = path.join(place, 'copy.db');
    for (const end of companions) {
      if (end !== '-shm' && fs.existsSync(file + end)) fs.copyFileSync(file + end, copy + end);
    }
    const db = new Database(copy, { fileMustExist: true });
    try {
      setHarmlessPragmas(db);
      return examineOpen(db, 'quick');
    } finally {
      db.close();
    }
  } catch (error) {
    if (asTrouble(error)?.why === 'damaged') return unsound(String(error));
    throw error;
  } finally {
    fs.rmSync(place, { recursive: true, force: true });
  }
}
