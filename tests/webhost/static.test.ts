import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPageFile } from '../../electron/hosting/page-file.ts';
import { pageFileOf } from '../../electron/hosting/page-policy.ts';
import { startRunning } from './support/running.ts';

/** Targets that must never lead to a file. Shared in spirit with the desktop's table in tests/shell. */
const hostile = [
  '',
  'index.html',
  '//index.html',
  '/../secret.txt',
  '/./index.html',
  '/assets/../index.html',
  '/assets/../../secret.txt',
  '/..%2fsecret.txt',
  '/%2e%2e/secret.txt',
  '/%2e%2e%2fsecret.txt',
  '/%252e%252e/secret.txt',
  '/..%5csecret.txt',
  '/..\\secret.txt',
  '/\\secret.txt',
  '/C:/secret.txt',
  '/C:%5csecret.txt',
  '/c|/secret.txt',
  '/file:///etc/passwd.txt',
  '/etc/passwd',
  '/.env.js',
  '/assets/.hidden.js',
  '/index.html/',
  '/index.html%00.js',
  '/index.html\u0000.js',
  '/index%2ehtml',
  '/index.html.',
  '/index.html ',
  '/index.html::$DATA',
  '/assets//page.js',
  '/assets',
  '/assets/',
  '/con.js',
  '/assets/NUL.txt',
  '/page.js.map',
  '/page.node',
  '/page.db',
  '/ｉndex.html',
  `/${'a'.repeat(400)}.js`,
] as const;

describe('page files', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'kw-static-'));
    mkdirSync(join(folder, 'page', 'assets'), { recursive: true });
    writeFileSync(join(folder, 'secret.txt'), 'secret');
    writeFileSync(join(folder, 'page', 'index.html'), 'start');
    symlinkSync(join(folder, 'secret.txt'), join(folder, 'page', 'link.txt'));
    symlinkSync(folder, join(folder, 'page', 'out'));
    symlinkSync(join(folder, 'page', 'index.html'), join(folder, 'page', 'inner.html'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(hostile)('W14 finds no file for %j', (target) => {
    expect(pageFileOf(target)).toBeUndefined();
  });

  it.each([
    ['/', 'index.html'],
    ['/?x=../..', 'index.html'],
    ['/index.html', 'index.html'],
    ['/assets/index-D4f_x-9Z.js', 'assets/index-D4f_x-9Z.js'],
    ['/assets/face.ttf?v=1', 'assets/face.ttf'],
  ])('finds the file of %s', (target, file) => {
    expect(pageFileOf(target)).toBe(file);
  });

  it('W14 follows no link out of the page folder', () => {
    const root = join(folder, 'page');
    expect(readPageFile(root, 'link.txt')).toBeUndefined();
    expect(readPageFile(root, 'out/secret.txt')).toBeUndefined();
    expect(readPageFile(root, '../secret.txt')).toBeUndefined();
    expect(readPageFile(root, 'assets')).toBeUndefined();
    expect(readPageFile(root, 'gone.js')).toBeUndefined();
    expect(readPageFile(join(folder, 'nowhere'), 'index.html')).toBeUndefined();
    const inner = readPageFile(root, 'inner.html');
    expect(Buffer.from(inner?.bytes ?? []).toString()).toBe('start');
  });

  it('W14 answers hostile targets over the wire with an error and no file', async () => {
    await using running = await startRunning({
      page: { 'index.html': 'start', '../secret.txt': 'secret words' },
    });
    for (const target of hostile.filter((each) => /^[!-~]+$/.test(each))) {
      const reply = await running.send({ method: 'GET', target, headers: [['Host', running.authority]] });
      expect([target, reply.status >= 400 && reply.status < 500]).toEqual([target, true]);
      expect(reply.body).not.toContain('secret words');
    }
  });

  it('sends each page file with its own type', async () => {
    const page = {
      'index.html': 'a',
      'a.js': 'b',
      'a.css': 'c',
      'a.svg': 'd',
      'a.ttf': 'e',
      'a.woff2': 'f',
      'a.png': 'g',
    };
    await using running = await startRunning({ page });
    const types: Record<string, string | undefined> = {};
    for (const name of Object.keys(page)) {
      const reply = await running.send({
        method: 'GET',
        target: `/${name}`,
        headers: [['Host', running.authority]],
      });
      types[name] = reply.headers['content-type'];
    }
    expect(types).toEqual({
      'index.html': 'text/html; charset=utf-8',
      'a.js': 'text/javascript; charset=utf-8',
      'a.css': 'text/css; charset=utf-8',
      'a.svg': 'image/svg+xml',
      'a.ttf': 'font/ttf',
      'a.woff2': 'font/woff2',
      'a.png': 'image/png',
    });
  });
});
