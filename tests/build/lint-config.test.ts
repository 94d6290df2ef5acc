import { ESLint } from 'eslint';
import { describe, expect, it } from 'vitest';

const linter = new ESLint({ overrideConfigFile: 'build/eslint.config.mjs' });

/** Strength of a rule for a file that need not exist: 0 off, 1 warning, 2 error. */
const strength = async (file: string, rule: string): Promise<number> => {
  const config = (await linter.calculateConfigForFile(file)) as { rules: Record<string, [number]> };
  return config.rules[rule]?.[0] ?? 0;
};

describe('which habit holds where', () => {
  it.each([
    ['electron/domain/x.ts', 'house/given-clock', 2],
    ['electron/storage/x.ts', 'house/given-clock', 2],
    ['electron/workshop/stock/x.ts', 'house/given-clock', 2],
    ['electron/workshop/core-clock.ts', 'house/given-clock', 0],
    ['electron/webhost/x.ts', 'house/given-clock', 0],
    ['electron/domain/x.ts', 'no-restricted-globals', 2],
    ['electron/workshop/x.ts', 'no-restricted-imports', 2],
    ['electron/storage/x.ts', '@typescript-eslint/no-explicit-any', 2],
    ['electron/storage/x.ts', '@typescript-eslint/no-non-null-assertion', 2],
    ['electron/storage/x.ts', 'max-lines-per-function', 2],
    ['renderer/areas/x/X.svelte', 'svelte/no-at-html-tags', 2],
    ['renderer/areas/x/X.svelte', 'svelte/require-each-key', 2],
    ['tests/domain/x.test.ts', 'house/every-test-runs', 2],
    ['tests/domain/x.test.ts', 'max-lines-per-function', 0],
    ['build/vite.config.ts', 'no-restricted-syntax', 0],
  ])('in %s, %s has strength %i', async (file, rule, expected) => {
    expect(await strength(file, rule)).toBe(expected);
  });

  it.each([
    [
      'electron/webhost/made-up.ts',
      "export const a = 'workshop.db';\n",
      'Only electron/storage knows the file of the books.',
    ],
    [
      'electron/webhost/made-up.ts',
      "import { app } from 'electron';\nexport const a = app;\n",
      "'electron' import is restricted from being used. Only electron/shell touches the desktop itself.",
    ],
    [
      'electron/webhost/made-up.ts',
      'export default 1;\n',
      'Export by name; only configurations and Svelte components have a default.',
    ],
    [
      'electron/domain/made-up.ts',
      'export const a = (ms: number) => new Date(ms);\n',
      "Unexpected use of 'Date'. Calendar arithmetic is done on whole day numbers (calendar.ts).",
    ],
  ])('%s may not say %j', async (filePath, code, message) => {
    const plain = new ESLint({
      overrideConfigFile: 'build/eslint.config.mjs',
      ruleFilter: ({ ruleId }) => ruleId.startsWith('no-restricted'),
    });
    const [result] = await plain.lintText(code, { filePath });
    expect(result?.messages.map((found) => found.message)).toEqual([message]);
  });
});
