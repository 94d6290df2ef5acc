import { mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { windowObstacle } from '../../build/desktop-binary.mjs';
import { fingerprint, unlessUnchanged } from '../../build/fingerprint.mjs';
import { explainNpmFailure } from '../../build/npm.mjs';
import { sameEntries } from '../../build/packages.mjs';
import { runQuietly } from '../../build/run.mjs';
import { carrierFor, isNewEnough } from '../../build/runtime.mjs';

describe('the Node that runs everything', () => {
  it.each([
    [undefined, false],
    ['9', false],
    ['10', true],
    ['11', true],
  ])('with Node-API %s is new enough: %s', (napi, expected) => {
    expect(isNewEnough(napi)).toBe(expected);
  });

  it('is fetched in an exact version of the 24 line where a package carries one', () => {
    const machines = [
      ['linux', 'x64'],
      ['linux', 'arm64'],
      ['darwin', 'x64'],
      ['win32', 'x64'],
    ] as const;
    for (const [platform, arch] of machines) {
      expect(carrierFor(platform, arch)?.[1]).toMatch(/^24\.\d+\.\d+$/);
    }
    expect(carrierFor('sunos', 'x64')).toBeUndefined();
  });
});

describe('the installed packages', () => {
  const wanted = {
    '': {},
    'node_modules/a': { version: '1.0.0', integrity: 'sha512-a' },
    'node_modules/b': { version: '2.0.0', integrity: 'sha512-b', optional: true },
  };
  const a = { 'node_modules/a': { version: '1.0.0', integrity: 'sha512-a' } };

  it.each([
    ['all there', { ...a, 'node_modules/b': { version: '2.0.0', integrity: 'sha512-b' } }, true],
    ['without what is for other machines', a, true],
    ['with one missing', {}, false],
    ['with another version', { 'node_modules/a': { version: '1.0.1', integrity: 'sha512-a' } }, false],
    ['with other contents', { 'node_modules/a': { version: '1.0.0', integrity: 'sha512-x' } }, false],
    ['with one too many', { ...a, 'node_modules/c': { version: '1.0.0' } }, false],
  ])('%s match the lock file: %3$s', (_, installed, expected) => {
    expect(sameEntries(wanted, installed)).toBe(expected);
  });

  it.each([
    [
      'npm error code ENOTFOUND\nnpm error request to https://r.example/x failed',
      'The package registry could not be reached. Check the network connection and run the command again.',
    ],
    [
      'npm error code EROFS',
      'Files could not be written. Check that this folder belongs to you and is not read-only, then run the command again.',
    ],
    ['npm error code ENOSPC', 'The disk is full. Free some space and run the command again.'],
    [
      'npm error code EUSAGE',
      'package.json and package-lock.json do not agree. Restore both from the project and run the command again.',
    ],
    [
      'npm error code EODD\nnpm error see https://r.example/x',
      'npm could not install the packages. It said:\nnpm error code EODD\nnpm error see (address)',
    ],
  ])('explain a failure without any address: %j', (output, sentence) => {
    expect(explainNpmFailure(output)).toBe(sentence);
  });
});

describe('the desktop window', () => {
  it.each([
    [
      { platform: 'linux', isRoot: true, env: { DISPLAY: ':0' } },
      'this session runs as root, where the window’s protection does not work',
    ],
    [{ platform: 'linux', isRoot: false, env: {} }, 'this session has no display'],
    [{ platform: 'linux', isRoot: false, env: { DISPLAY: '' } }, 'this session has no display'],
    [{ platform: 'linux', isRoot: false, env: { DISPLAY: ':0' } }, undefined],
    [{ platform: 'linux', isRoot: false, env: { WAYLAND_DISPLAY: 'wayland-0' } }, undefined],
    [{ platform: 'darwin', isRoot: false, env: {} }, undefined],
    [{ platform: 'win32', isRoot: false, env: {} }, undefined],
  ])('in the session %j is kept from opening by: %s', (session, obstacle) => {
    expect(windowObstacle(session)).toBe(obstacle);
  });
});

describe('building only what changed', () => {
  let folder = '';
  beforeEach(() => {
    folder = mkdtempSync(path.join(tmpdir(), 'kw-build-'));
  });
  afterEach(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('builds once, again after a change or a lost product, and not after a mere touch', async () => {
    const source = path.join(folder, 'a.ts');
    const product = path.join(folder, 'a.js');
    writeFileSync(source, 'one');
    const piece = {
      base: folder,
      sources: ['a.ts'],
      stamp: path.join(folder, 'out', 'stamp'),
      products: [product],
    };
    const build = () =>
      unlessUnchanged(piece, () => {
        writeFileSync(product, 'built');
        return Promise.resolve();
      });
    const first = await build();
    utimesSync(source, 0, 0);
    const touched = await build();
    writeFileSync(source, 'two');
    const changed = await build();
    rmSync(product);
    const lost = await build();
    expect({ first, touched, changed, lost }).toEqual({
      first: true,
      touched: false,
      changed: true,
      lost: true,
    });
  });

  it('leaves no stamp behind when the work fails', async () => {
    writeFileSync(path.join(folder, 'a.ts'), 'one');
    const piece = { base: folder, sources: ['a.ts'], stamp: path.join(folder, 'stamp'), products: [] };
    await expect(unlessUnchanged(piece, () => Promise.reject(new Error('no')))).rejects.toThrow('no');
    expect(await unlessUnchanged(piece, () => Promise.resolve())).toBe(true);
  });

  it('sees a file that is renamed', () => {
    writeFileSync(path.join(folder, 'a.ts'), 'one');
    const before = fingerprint(folder, ['.']);
    rmSync(path.join(folder, 'a.ts'));
    writeFileSync(path.join(folder, 'b.ts'), 'one');
    expect(fingerprint(folder, ['.'])).not.toBe(before);
  });
});

describe('running other programs', () => {
  it('keeps the output and the exit code', async () => {
    const outcome = await runQuietly(process.execPath, ['-e', 'console.log("said"); process.exit(3)']);
    expect(outcome).toEqual({ code: 3, output: 'said\n', timedOut: false });
  });

  it('ends a program that takes too long', async () => {
    const outcome = await runQuietly(process.execPath, ['-e', 'setInterval(() => {}, 1000)'], {
      limitMs: 300,
    });
    expect(outcome).toEqual({ code: 137, output: '', timedOut: true });
  });

  it('answers 127 for a program that is not there', async () => {
    const outcome = await runQuietly(path.join(tmpdir(), 'kw-no-such-program'), []);
    expect(outcome.code).toBe(127);
  });
});
