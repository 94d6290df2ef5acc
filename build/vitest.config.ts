/** Tests: the rooms first, then the whole house in a real browser. */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig, type TestUserConfig } from 'vitest/config';
import { LongestFirst } from './longest-first.ts';

const root = fileURLToPath(new URL('..', import.meta.url));

/** Property tests draw from one seed, printed so that a failure can be repeated with KNIFEWRIGHT_SEED. */
const seed = process.env['KNIFEWRIGHT_SEED'] ?? String(Date.now() % 2_147_483_647);
// This file is read once for each project; the seed stays, and is said once.
if (process.env['KNIFEWRIGHT_SEED_SAID'] !== seed) {
  process.stdout.write(`Seed of the property tests: ${seed}\n`);
}
process.env['KNIFEWRIGHT_SEED'] = seed;
process.env['KNIFEWRIGHT_SEED_SAID'] = seed;
// One name for the whole run, for what is made once and shared.
process.env['KNIFEWRIGHT_RUN'] ??= `knifewright-run-${String(process.pid)}`;

const common: TestUserConfig = {
  root,
  environment: 'node',
  pool: 'forks',
  setupFiles: ['build/vitest-setup.ts'],
  // A file of tests leaves nothing behind in the modules it loads; loading them anew for each costs minutes.
  isolate: false,
  env: {
    TZ: 'UTC',
    KNIFEWRIGHT_SEED: seed,
    KNIFEWRIGHT_RUN: process.env['KNIFEWRIGHT_RUN'],
    NODE_ENV: 'test',
    // Programs the tests start, hundreds of times the same, find their sources compiled: half of their time.
    NODE_COMPILE_CACHE: `${root}.out/compiled-sources`,
  },
};

export default defineConfig({
  root,
  cacheDir: '.out/vitest-cache',
  plugins: [svelte({ configFile: false, compilerOptions: { fragments: 'tree' } })],
  test: {
    sequence: { sequencer: LongestFirst },
    passWithNoTests: false,
    globalSetup: ['build/vitest-run.ts'],
    projects: [
      {
        extends: true,
        test: {
          ...common,
          name: 'rooms',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/e2e/**', 'tests/bench/**', 'tests/**/*.e2e.test.ts'],
          maxWorkers: 2,
          testTimeout: 30_000,
          hookTimeout: 60_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          ...common,
          name: 'house',
          include: ['tests/e2e/**/*.test.ts', 'tests/**/*.e2e.test.ts'],
          // One more than elsewhere: a test that drives a browser waits for it a third of its time.
          maxWorkers: 3,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
