/**
 * Habits of the source, as errors. Layers between folders are in `layers.mjs`; the rules that need types are in
 * `.oxlintrc.json`, for another linter that reads types with the native compiler.
 */
import js from '@eslint/js';
import { defineConfig } from 'eslint/config';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';
import { house } from './lint-rules.mjs';

const core = [
  'electron/domain/**',
  'electron/storage/**',
  'electron/workshop/**',
  'electron/documents/**',
  'electron/demo/**',
];

/** Where the real clock and real chance enter: composition only. */
const composition = [
  'electron/workshop/core-clock.ts',
  'electron/workshop/engine*.ts',
  'electron/workshop/core-ids.ts',
];

const noDefaultExport = {
  selector: 'ExportDefaultDeclaration',
  message: 'Export by name; only configurations and Svelte components have a default.',
};
const booksFile = {
  selector: 'Literal[value=/workshop\\.db/]',
  message: 'Only electron/storage knows the file of the books.',
};
const inlineStyle = {
  selector: "SvelteElement > SvelteStartTag > SvelteAttribute[key.name='style']",
  message:
    'The content policy forbids inline styles: use a class, or a style: directive for a computed value.',
};
const oldEvents = {
  selector: "SvelteDirective[kind='EventHandler']",
  message: 'Write onclick={…}, not on:click.',
};
const oldProps = {
  selector: 'SvelteScriptElement ExportNamedDeclaration > VariableDeclaration',
  message: 'Take props with $props(), not with export let.',
};

/** @param {...string} allowed @returns {Record<string, import('eslint').Linter.RuleEntry>} */
const electronOnlyIn = (...allowed) => ({
  'no-restricted-imports': [
    'error',
    {
      paths: [
        {
          name: 'electron',
          ...(allowed.length > 0 ? { allowImportNames: allowed } : {}),
          message: 'Only electron/shell touches the desktop itself.',
        },
      ],
    },
  ],
});

/** @type {Record<string, import('eslint').Linter.RuleEntry>} */
const general = {
  ...electronOnlyIn(),
  eqeqeq: ['error', 'always', { null: 'ignore' }],
  'max-lines': ['error', { max: 500 }],
  'max-lines-per-function': ['error', { max: 60 }],
  complexity: ['error', 16],
  'max-depth': ['error', 4],
  'max-params': ['error', 6],
  'no-console': ['error', { allow: ['error'] }],
  'no-eval': 'error',
  'no-implicit-coercion': 'error',
  'no-param-reassign': 'error',
  'no-warning-comments': ['error', { terms: ['todo', 'fixme', 'xxx', 'hack'] }],
  'no-restricted-syntax': ['error', noDefaultExport],
  'no-restricted-properties': [
    'error',
    ...['innerHTML', 'outerHTML', 'insertAdjacentHTML'].map((property) => ({
      property,
      message: 'Markup is never made from text.',
    })),
  ],
  'object-shorthand': 'error',
  'prefer-template': 'error',
  'house/import-ending': 'error',
};

/** @type {Record<string, import('eslint').Linter.RuleEntry>} */
const written = {
  '@typescript-eslint/consistent-type-definitions': 'off',
  '@typescript-eslint/consistent-type-imports': ['error', { disallowTypeAnnotations: false }],
  '@typescript-eslint/no-unused-vars': [
    'error',
    { argsIgnorePattern: '^_', varsIgnorePattern: '^_', destructuredArrayIgnorePattern: '^_' },
  ],
};

export default defineConfig(
  { ignores: ['.out/', '.setup/', '.svelte-check/', 'dist/', 'coverage/', 'node_modules/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error', reportUnusedInlineConfigs: 'error' } },
  js.configs.recommended,
  ts.configs.strict,
  ts.configs.stylistic,
  svelte.configs.recommended,
  svelte.configs.prettier,
  {
    plugins: { house },
    languageOptions: { globals: globals.node },
    rules: { ...general, ...written },
  },
  {
    files: ['renderer/**'],
    languageOptions: { globals: globals.browser },
    rules: {
      'no-restricted-globals': ['error', { name: 'process', message: 'Pages never see Node.' }],
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
    rules: {
      'no-restricted-syntax': ['error', inlineStyle, oldEvents, oldProps],
      // Props and state are declared with let because the compiler assigns them.
      'prefer-const': 'off',
      'svelte/prefer-const': ['error', { destructuring: 'all' }],
      'svelte/button-has-type': 'error',
      'svelte/no-at-html-tags': 'error',
      'svelte/no-target-blank': 'error',
      'svelte/no-unused-props': 'error',
      'svelte/no-unused-svelte-ignore': 'error',
      'svelte/require-each-key': 'error',
      // Navigation inside one page needs no path resolver of a page framework.
      'svelte/no-navigation-without-resolve': 'off',
    },
  },
  // Needs types, which only svelte-check has of components.
  { files: ['**/*.svelte'], rules: { 'svelte/no-unused-props': 'off' } },
  { files: core, ignores: composition, rules: { 'house/given-clock': 'error' } },
  {
    files: ['electron/domain/**'],
    rules: {
      'no-restricted-globals': [
        'error',
        { name: 'Date', message: 'Calendar arithmetic is done on whole day numbers (calendar.ts).' },
        ...['process', 'Buffer', 'fetch', 'setTimeout'].map((name) => ({
          name,
          message: 'The domain is pure.',
        })),
      ],
    },
  },
  {
    files: ['electron/domain/**', 'electron/api/**', 'electron/workshop/**'],
    ignores: ['electron/workshop/engine*.ts', 'electron/workshop/core*.ts'],
    rules: {
      'no-restricted-imports': [
        'error',
        {
          paths: ['electron', 'fs', 'fs/promises', 'node:fs', 'node:fs/promises'].map((name) => ({
            name,
            message: 'Files are reached through what the context passes in.',
          })),
        },
      ],
    },
  },
  {
    files: ['electron/**'],
    ignores: ['electron/storage/**'],
    rules: { 'no-restricted-syntax': ['error', noDefaultExport, booksFile] },
  },
  { files: ['electron/shell/**', 'electron/main.ts'], rules: { 'no-restricted-imports': 'off' } },
  { files: ['electron/preload.ts'], rules: electronOnlyIn('contextBridge', 'ipcRenderer') },
  {
    files: ['tests/**', 'build/take-*.ts'],
    rules: {
      'house/every-test-runs': 'error',
      'max-lines-per-function': 'off',
      'no-restricted-imports': 'off',
    },
  },
  // A second reader of the exported books gives its answer on the terminal.
  { files: ['tests/reference/*.mjs'], rules: { 'no-console': 'off' } },
  { files: ['**/*.config.{ts,mjs}', 'build/layers.mjs'], rules: { 'no-restricted-syntax': 'off' } },
);
