/**
 * A second start on the same workshop does not fail: it asks the running host for a fresh address.
 * The running host leaves its port and a key in a file only this person can read.
 */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { z } from 'zod';

const fileName = 'loopback.json';

const noteShape = z.strictObject({
  authority: z.string().regex(/^[a-z0-9.-]{1,80}:\d{1,5}$/),
  port: z.int().min(1).max(65_535),
  key: z.string().regex(/^[A-Za-z0-9_-]{40,}$/),
});
export type HandoverNote = z.infer<typeof noteShape>;

/** Leaves the note. @returns false when the folder cannot be written; a second start will then not find us */
export const leaveNote = (folder: string, note: HandoverNote): boolean => {
  try {
    rmSync(join(folder, fileName), { force: true });
    writeFileSync(join(folder, fileName), JSON.stringify(note), { mode: 0o600, flag: 'wx' });
    return true;
  } catch {
    return false;
  }
};

/** Takes the note away again, if it is still ours. */
export const removeNote = (folder: string, key: string): void => {
  if (readNote(folder)?.key === key) rmSync(join(folder, fileName), { force: true });
};

/** The note of a host that runs, or ran, on this folder. */
export const readNote = (folder: string): HandoverNote | undefined => {
  try {
    const read: unknown = JSON.parse(readFileSync(join(folder, fileName), 'utf8'));
    return noteShape.safeParse(read).data;
  } catch {
    return undefined;
  }
};

const codeShape = z.strictObject({ code: z.string().regex(/^[A-Za-z0-9_-]{20,}$/) });

const codeIn = (text: string): string | undefined => {
  try {
    return codeShape.safeParse(JSON.parse(text)).data?.code;
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
