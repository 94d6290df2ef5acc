/**
 * A second start on the same workshop does not fail: it asks the running host for a fresh address.
 * The running host leaves its port and a key in a file only this person can read.
 */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { textLike, withKeys } from '../hosting/plain.ts';
import { noteFile } from './note-file.ts';

export interface HandoverNote {
  readonly authority: string;
  readonly port: number;
  readonly key: string;
}

const noteIn = (value: unknown): HandoverNote | undefined => {
  const parts = withKeys(value, ['authority', 'port', 'key']);
  const authority = textLike(parts?.authority, /^[a-z0-9.-]{1,80}:\d{1,5}$/);
  const key = textLike(parts?.key, /^[A-Za-z0-9_-]{40,}$/);
  const port = parts?.port;
  if (authority === undefined || key === undefined || typeof port !== 'number') return undefined;
  return Number.isInteger(port) && port >= 1 && port <= 65_535 ? { authority, port, key } : undefined;
};

/** Leaves the note. @returns false when the folder cannot be written; a second start will then not find us */
export const leaveNote = (folder: string, note: HandoverNote): boolean => {
  try {
    rmSync(noteFile(folder), { force: true });
    writeFileSync(noteFile(folder), JSON.stringify(note), { mode: 0o600, flag: 'wx' });
    return true;
  } catch {
    return false;
  }
};

/** Takes the note away again, if it is still ours. */
export const removeNote = (folder: string, key: string): void => {
  if (readNote(folder)?.key === key) rmSync(noteFile(folder), { force: true });
};

/** The note of a host that runs, or ran, on this folder. */
export const readNote = (folder: string): HandoverNote | undefined => {
  try {
    const read: unknown = JSON.parse(readFileSync(noteFile(folder), 'utf8'));
    return noteIn(read);
  } catch {
    return undefined;
  }
};

const codeIn = (text: string): string | undefined => {
  try {
    return textLike(withKeys(JSON.parse(text), ['code'])?.code, /^[A-Za-z0-9_-]{20,}$/);
  } catch {
    return undefined;
  }
};

/** Asks a running host for a fresh one-time code; nothing when nobody answers any more. */
export const askForCode = (note: HandoverNote): Promise<string | undefined> =>
  new Promise((resolve) => {
    const headers = {
      Host: note.authority,
      Authorization: `Handover ${note.key}`,
      'Content-Type': 'application/json',
      'Content-Length': '2',
    };
    const req = request({
      host: '127.0.0.1',
      port: note.port,
      path: '/handover',
      method: 'POST',
      headers,
      timeout: 2000,
    });
    req.on('timeout', () => req.destroy());
    req.on('error', () => resolve(undefined));
    req.on('response', (res) => {
      let text = '';
      res.setEncoding('utf8');
      res.on('data', (part: string) => {
        text = (text + part).slice(0, 2000);
      });
      res.on('end', () => resolve(res.statusCode === 200 ? codeIn(text) : undefined));
      res.on('error', () => resolve(undefined));
    });
    req.end('{}');
  });
