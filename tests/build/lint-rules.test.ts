import { Linter } from 'eslint';
import { describe, expect, it } from 'vitest';
import { house } from '../../build/lint-rules.mjs';

const found = (rule: string, code: string): string[] =>
  new Linter()
    .verify(code, { plugins: { house }, rules: { [`house/${rule}`]: 'error' } })
    .map(({ messageId }) => messageId ?? 'other');

describe('house rules of the linter', () => {
  it.each([
    ["import './a.ts';", []],
    ["import './A.svelte';", []],
    ["import url from './mark.svg?url';", []],
    ["import 'zod';", []],
    ["import './a';", ['missing']],
    ["export * from '../b';", ['missing']],
    ["export { c } from './c.test';", ['missing']],
    ["const d = import('./d');", ['missing']],
  ])('want the ending in an import path: %s', (code, expected) => {
    expect(found('import-ending', code)).toEqual(expected);
  });

  it.each([
    ["it('a', () => {});", []],
    ["it.runIf(true)('a', () => {});", []],
    ["it.each([1])('a', () => {});", []],
    // Texts handed to the rule, which must refuse them: no test is set aside here.
    ...['only', 'skip', 'todo'].flatMap((how): [string, string[]][] => [
      [`it.${how}('a', () => {});`, ['aside']],
      [`describe.${how}('a', () => {});`, ['aside']],
      [`it.concurrent.${how}('a', () => {});`, ['aside']],
    ]),
    // Something of the same name that is no test is nobody's business.
    ...['only', 'skip'].map((how): [string, string[]] => [`list.${how}(1);`, []]),
  ])('let no test be set aside: %s', (code, expected) => {
    expect(found('every-test-runs', code)).toEqual(expected);
  });

  it.each([
    ['new Date(0);', []],
    ['clock.now();', []],
    ['new Date();', ['clock']],
    ['Date();', ['clock']],
    ['Date.now();', ['clock']],
    ['Math.random();', ['chance']],
    ['randomUUID();', ['chance']],
    ['crypto.randomUUID();', ['chance']],
    ['randomBytes(8);', ['chance']],
    ['crypto.getRandomValues(list);', ['chance']],
  ])('take clock and chance from outside: %s', (code, expected) => {
    expect(found('given-clock', code)).toEqual(expected);
  });
});
