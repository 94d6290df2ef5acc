import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';

/** A Node.js of this machine that is too old for the database driver, where there is one. */
const oldNode = ['/usr/bin/node', '/usr/local/bin/node'].find((path) => {
  if (!existsSync(path)) return false;
  const asked = spawnSync(path, ['-p', 'process.versions.napi'], { encoding: 'utf8' });
  return asked.status === 0 && Number(asked.stdout) < 10;
});

// Needs a Node.js older than 22.14 beside the one that runs the tests; counted as skipped where there is none.
describe.runIf(oldNode !== undefined)('the host on an old Node.js', () => {
  it('ends with exit code 2 and one sentence, instead of crashing in the database driver', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'kw-old-node-'));
    try {
      const outfile = join(folder, 'main.mjs');
      await build({
        entryPoints: [fileURLToPath(new URL('../../electron/webhost/main.ts', import.meta.url))],
        bundle: true,
        format: 'esm',
        platform: 'node',
        target: 'node22',
        external: ['better-sqlite3', 'pdfkit'],
        outfile,
      });
      const data = join(folder, 'books');
      const ran = spawnSync(oldNode ?? '', [outfile, '--no-open', '--data', data], {
        encoding: 'utf8',
        timeout: 20_000,
      });
      expect([ran.status, ran.signal, ran.stdout, existsSync(data)]).toEqual([2, null, '', false]);
      expect(ran.stderr).toMatch(
        /^Knifewright needs Node\.js 22\.14 or newer and this is \d+\.\d+\.\d+; [^\n]+\n$/,
      );
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
