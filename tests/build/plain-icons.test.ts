import { globSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import type { Component } from 'svelte';
import { render } from 'svelte/server';
import { describe, expect, it } from 'vitest';
import { plainIcon } from '../../build/plain-icons.mjs';

const root = path.resolve(import.meta.dirname, '../..');
const icons = path.dirname(createRequire(import.meta.url).resolve('@lucide/svelte/icons/search'));
const screens = globSync('renderer/**/*.svelte', { cwd: root });
const sources = [...screens, ...globSync('renderer/**/*.ts', { cwd: root })].map((file) =>
  readFileSync(path.join(root, file), 'utf8'),
);
const imported = /import (\w+) from '@lucide\/svelte\/icons\/([a-z0-9-]+)'/g;
const used = [
  ...new Set(sources.flatMap((text) => [...text.matchAll(imported)].map((found) => found[2] ?? ''))),
];

/** Tags with their attributes in order of name, so that only what is drawn counts. */
const tagsOf = (markup: string): readonly string[] =>
  [...markup.replaceAll(/<!--.*?-->/g, '').matchAll(/<(\w+)((?: [\w-]+="[^"]*")*)/g)].map((found) => {
    const given = [...(found[2] ?? '').matchAll(/[\w-]+="[^"]*"/g)].map(([one]) => one);
    return [found[1] ?? '', ...given.sort()].join(' ');
  });

describe('icons', () => {
  // Against the library's own component, rendered by the framework.
  it('are the library’s own drawings', async () => {
    expect(used.length).toBeGreaterThan(20);
    for (const name of used) {
      const { default: original } = (await import(path.join(icons, `${name}.svelte`))) as {
        default: Component;
      };
      const source = readFileSync(path.join(icons, `${name}.svelte`), 'utf8');
      const plain = plainIcon(source, name)
        .replace(/^<script>.*<\/script>/, '')
        .replaceAll('{size}', '"18"');
      const { body } = render(original, { props: { size: 18, 'aria-hidden': 'true' } });
      expect(tagsOf(plain), name).toEqual(tagsOf(body));
    }
  });

  it('are given a size and are passed over by readers, and nothing else', () => {
    for (const text of sources) {
      const names = [...text.matchAll(imported)].map((found) => found[1] ?? '');
      for (const name of [...names, 'Icon'])
        for (const [tag, given] of text.matchAll(new RegExp(`<${name}\\b([^>]*)/>`, 'g')))
          expect(given?.trim().replace(/\s+/g, ' '), tag).toMatch(/^size=\{.+\} aria-hidden="true"$/);
    }
  });

  it('cannot be read any other way than they are written', () => {
    expect(() => plainIcon('<svg></svg>', 'bolt')).toThrow('bolt');
    expect(() => plainIcon('const iconData = {"name":"bolt","size":16,"node":[]};', 'bolt')).toThrow('size');
  });
});
