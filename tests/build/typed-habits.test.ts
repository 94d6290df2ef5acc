/** The rules that need types: that none is lost against where they come from, and that each finds what it is for. */
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript-eslint';
import { describe, expect, it } from 'vitest';
import { typedLinter } from '../../build/checks.mjs';
import { runQuietly } from '../../build/run.mjs';
import { quickFolder } from '../folders.ts';

/** A line for each rule that breaks it; the first lines are those all of them may use. */
const common = `
declare const anything: any;
declare const word: string;
declare const words: string[];
declare const maybe: string | undefined;
declare const thing: { a?: { b: string } };
declare function later(): Promise<number>;
declare function takes(text: string): void;
declare function gives(): void;
declare const fruit: 'apple' | 'pear';
export {};
`;

const planted: Readonly<Record<string, string>> = {
  'await-thenable': 'await word.length;',
  'no-array-delete': 'delete words[0];',
  'no-base-to-string': 'takes(String({}));',
  'no-confusing-void-expression': 'const x = gives();',
  'no-deprecated': '/** @deprecated there is another */ declare function old(): void; old();',
  'no-duplicate-type-constituents': 'let x: string | string;',
  'no-floating-promises': 'later();',
  'no-for-in-array': 'for (const x in words) takes(x);',
  'no-generated-empty-object-type': 'type X = Omit<{ a: string }, "a">;',
  'no-implied-eval': 'setTimeout("gives()", 1);',
  'no-meaningless-void-operator': 'void gives();',
  'no-misused-promises': 'if (later()) gives();',
  'no-misused-spread': 'const x = { ...words };',
  'no-mixed-enums': 'enum X { A = 1, B = "b" }',
  'no-redundant-type-constituents': 'let x: string | unknown;',
  'no-unnecessary-boolean-literal-compare': 'declare const x: boolean; if (x === true) gives();',
  'no-unnecessary-condition': 'if (words) gives();',
  'no-unnecessary-template-expression': 'takes(`${word}`);',
  'no-unnecessary-type-arguments': 'declare function x<T = string>(): T; x<string>();',
  'no-unnecessary-type-assertion': 'takes(word as string);',
  'no-unnecessary-type-conversion': 'takes(String(word));',
  'no-unnecessary-type-parameters': 'declare function x<T>(given: T): void;',
  'no-unsafe-argument': 'takes(anything);',
  'no-unsafe-assignment': 'const x = anything;',
  'no-unsafe-call': 'anything();',
  'no-unsafe-enum-comparison': 'enum X { A = 0 } declare const x: X; if (x === 0) gives();',
  'no-unsafe-member-access': 'anything.part;',
  'no-unsafe-return': 'const x = () => anything;',
  'no-unsafe-unary-minus': '-word;',
  'no-useless-default-assignment': 'const x = ({ a = 1 }: { a: number }) => a; x({ a: 1 });',
  'non-nullable-type-assertion-style': 'takes(maybe as string);',
  'only-throw-error': 'throw word;',
  'prefer-find': 'words.filter((x) => x === word)[0];',
  'prefer-includes': 'if (words.indexOf(word) !== -1) gives();',
  'prefer-nullish-coalescing': 'takes(maybe || word);',
  'prefer-optional-chain': 'thing.a && thing.a.b;',
  'prefer-promise-reject-errors': 'void Promise.reject(word);',
  'prefer-reduce-type-parameter': 'words.reduce((all, x) => all.concat(x), [] as string[]);',
  'prefer-regexp-exec': 'word.match(/a/);',
  'prefer-return-this-type': 'class X { same(): X { return this; } }',
  'prefer-string-starts-ends-with': 'if (word[0] === "a") gives();',
  'related-getter-setter-pairs': 'interface X { get a(): string; set a(given: number); }',
  'require-await': 'const x = async () => word;',
  'restrict-plus-operands': 'word + 1;',
  'restrict-template-expressions': 'takes(`a ${{}}`);',
  'return-await': 'const x = async () => { try { return later(); } catch { return 1; } };',
  'switch-exhaustiveness-check': 'switch (fruit) { case "apple": gives(); }',
  'unbound-method': 'class X { same() { return this; } } const x = new X().same;',
  'use-unknown-in-catch-callback-variable': 'void later().catch((problem: any) => 1);',
};

/** Rules that need types and are not asked for, with the reason. */
const leftOut = [
  // Records looked up by a name from outside are read with brackets, and the compiler asks for them.
  'dot-notation',
  // The compiler admits no enum (erasableSyntaxOnly), and the few classes hold private fields, which it tells apart.
  'no-unsafe-enum-assignment',
  'no-unsafe-class-instance-assignment',
];

/** What the set of rules says of each. */
interface Plugin {
  readonly rules: Readonly<
    Record<string, { readonly meta: { readonly docs?: { readonly requiresTypeChecking?: boolean } } }>
  >;
}

interface Report {
  readonly diagnostics: readonly { readonly code: string; readonly filename: string }[];
}

/** What is asked for everywhere, by the name of the rule. */
const asked = (): string[] => {
  const [everywhere = ''] = readFileSync('.oxlintrc.json', 'utf8').split('"overrides"');
  return [...everywhere.matchAll(/"typescript\/([a-z-]+)"/g)].map((found) => found[1] ?? '').sort();
};

describe('rules that need types', () => {
  it('are all of those the strict and the stylistic set hold', () => {
    const { rules } = ts.plugin as unknown as Plugin;
    const sets = [...ts.configs.strictTypeChecked, ...ts.configs.stylisticTypeChecked];
    const wanted = sets
      .flatMap((set) => Object.entries(set.rules ?? {}))
      .filter(([, strength]) => strength !== 'off')
      .map(([name]) => name.replace('@typescript-eslint/', ''))
      .filter((name) => rules[name]?.meta.docs?.requiresTypeChecking === true);
    const added = ['switch-exhaustiveness-check'];
    expect(asked()).toEqual(
      [...new Set([...wanted, ...added])].filter((name) => !leftOut.includes(name)).sort(),
    );
  });

  it('each find what they are for', async () => {
    const folder = quickFolder('knifewright-habits-');
    writeFileSync(
      path.join(folder, 'tsconfig.json'),
      JSON.stringify({
        compilerOptions: {
          strict: true,
          target: 'ES2023',
          module: 'ESNext',
          lib: ['ES2023', 'DOM'],
          types: [],
        },
      }),
    );
    for (const [rule, code] of Object.entries(planted)) {
      writeFileSync(path.join(folder, `${rule}.ts`), `${common}${code}\n`);
    }
    const [script = '', ...words] = typedLinter('--format', 'json', folder);
    const { output, code } = await runQuietly(process.execPath, [script, ...words]);
    const found = (JSON.parse(output) as Report).diagnostics.map(
      (each) => `${path.basename(each.filename, '.ts')}: ${each.code}`,
    );
    const missed = asked().filter((rule) => !found.includes(`${rule}: typescript(${rule})`));
    expect({ code, missed }).toEqual({ code: 1, missed: [] });
  });
});
