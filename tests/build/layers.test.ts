import { cruise } from 'dependency-cruiser';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import config from '../../build/layers.mjs';

/** A tiny house in which every file but the first breaks one rule. */
const files: Readonly<Record<string, string>> = {
  'electron/domain/money.ts': 'export const cents = 1;',
  'electron/domain/reads-files.ts': "import { readFileSync } from 'node:fs'; export const a = readFileSync;",
  'electron/domain/knows-storage.ts': "import { b } from '../storage/b.ts'; export const c = b;",
  'electron/storage/b.ts': "import { cents } from '../domain/money.ts'; export const b = cents;",
  'electron/api/takes-values.ts': "import { cents } from '../domain/money.ts'; export const d = cents;",
  'electron/api/takes-types.ts': "import type * as m from '../domain/money.ts'; export type E = typeof m;",
  'electron/workshop/one.ts': "import { two } from './two.ts'; export const one = (): unknown => two;",
  'electron/workshop/two.ts': "import { one } from './one.ts'; export const two = (): unknown => one;",
  'electron/attic/new.ts': "import { cents } from '../domain/money.ts'; export const f = cents;",
  'renderer/lib/reaches-in.ts': "import { one } from '../../electron/workshop/one.ts'; export const g = one;",
  'renderer/lib/takes-schema.ts':
    "import { d } from '../../electron/api/takes-values.ts'; export const i = d;",
  'renderer/lib/takes-shape.ts':
    "import type { E } from '../../electron/api/takes-types.ts'; export const j: E | undefined = undefined;",
  'migrations/lost.ts': 'export const h = 1;',
};

let house = '';
beforeAll(() => {
  house = mkdtempSync(path.join(tmpdir(), 'kw-layers-'));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(path.dirname(path.join(house, name)), { recursive: true });
    writeFileSync(path.join(house, name), text);
  }
});
afterAll(() => {
  rmSync(house, { recursive: true, force: true });
});

it('finds every kind of step over a layer, and nothing where there is none', async () => {
  const { tsConfig: _, ...options } = config.options ?? {};
  const { output } = await cruise(['electron', 'renderer', 'migrations'], {
    ...options,
    baseDir: house,
    validate: true,
    ruleSet: { forbidden: config.forbidden ?? [] },
  });
  if (typeof output === 'string') throw new Error('The report should be an object.');
  const found = output.summary.violations.map(({ rule, from }) => `${from}: ${rule.name}`).sort();
  expect(found).toEqual([
    'electron/api/takes-values.ts: contract takes only types from the domain',
    'electron/attic/new.ts: every folder has a layer',
    'electron/domain/knows-storage.ts: electron/domain leans only on its own',
    'electron/domain/reads-files.ts: electron/domain knows no Node',
    'electron/workshop/one.ts: no cycles',
    'migrations/lost.ts: nothing lost',
    'renderer/lib/reaches-in.ts: renderer leans only on its own',
    'renderer/lib/takes-schema.ts: pages take only types from the contract',
  ]);
});
