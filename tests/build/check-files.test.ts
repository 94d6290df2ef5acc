import { existsSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checks } from '../../build/checks.mjs';
import { excuses, judgeSizes, lineCount } from '../../build/check-files.mjs';

describe('sizes of files', () => {
  it('counts lines as a person does', () => {
    expect(['', 'a', 'a\n', 'a\nb\n'].map(lineCount)).toEqual([1, 1, 1, 2]);
  });

  it('warns from 301 lines and fails from 501', () => {
    const files = [300, 301, 500, 501].map((lines) => ({ file: `${String(lines)}.ts`, lines }));
    const { long, tooLong } = judgeSizes(files);
    expect({ long: long.map(({ file }) => file), tooLong: tooLong.map(({ file }) => file) }).toEqual({
      long: ['301.ts', '500.ts'],
      tooLong: ['501.ts'],
    });
  });
});

describe('excuses in the source', () => {
  // The words are put together here, so that this file itself holds none.
  const lint = 'eslint' + '-disable';
  const typed = 'oxlint' + '-disable';
  const types = '@ts' + '-';

  it.each([
    [`// ${lint}-next-line no-eval -- the reason why`, []],
    [`let a; // ${lint}-line no-eval, eqeqeq -- the reason why`, []],
    [`<!-- ${lint}-next-line svelte/no-at-html-tags -- the reason why -->`, []],
    [`// ${typed}-next-line typescript/no-deprecated -- the reason why`, []],
    [`// ${typed}-line typescript/no-deprecated`, [1]],
    [`/* ${lint} */`, [1]],
    [`let a;\n/* ${lint} no-eval -- whole files are not exempt */`, [2]],
    [`// ${lint}-next-line`, [1]],
    [`// ${lint}-line no-eval`, [1]],
    [`// ${types}ignore`, [1]],
    [`// ${types}nocheck -- a reason does not help`, [1]],
    [`// ${types}expect-error the reason why`, []],
  ])('are few and explained: %j', (text, lines) => {
    expect(excuses(text)).toEqual(lines);
  });
});

describe('the checks of the source', () => {
  it('are all programs that are there', () => {
    const absent = checks.map(({ words }) => words[0] ?? '').filter((script) => !existsSync(script));
    expect(absent).toEqual([]);
  });
});
