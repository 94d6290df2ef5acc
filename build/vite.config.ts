/**
 * The pages: Svelte compiled to plain files that a strict content policy accepts, so no inline script,
 * no style sheet or font inside an address, and templates built node by node for Trusted Types.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import type { Plugin } from 'vite';
import { plainIcons } from './plain-icons.mjs';

const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

const firstPage = inProject('renderer/page.ts');
const headless = /node_modules[\\/]bits-ui[\\/]/;

/** Lets the browser fetch the page itself while it still reads the first script, which asks for it. */
const preloadPage: Plugin = {
  name: 'preload-page',
  transformIndexHtml: {
    order: 'post',
    handler: (html, { bundle }) => {
      const chunks = Object.values(bundle ?? {}).filter((one) => one.type === 'chunk');
      const page = chunks.find((one) => one.moduleIds.includes(firstPage));
      if (page === undefined) throw new Error('The page was not found among the built files');
      if (page.moduleIds.some((id) => headless.test(id)))
        throw new Error('The first page holds the headless components; fetch what needs them with `Later`');
      const files = [page.fileName, ...page.imports].filter((file) => !html.includes(file));
      const styles = [...(page.viteMetadata?.importedCss ?? [])];
      return [
        ...files.map((file) => ({ rel: 'modulepreload', crossorigin: true, href: `/${file}` })),
        ...styles.map((file) => ({ rel: 'stylesheet', crossorigin: true, href: `/${file}` })),
      ].map((attrs) => ({ tag: 'link', attrs, injectTo: 'head' as const }));
    },
  },
};

/** The faces the first screen is set in. */
const firstFaces = /AtkinsonHyperlegible(?:Next_(?:400Regular|600SemiBold|700Bold)|Mono_400Regular).*\.ttf$/;

/** Lets the browser fetch the faces before it meets the first letter set in them, so that it lays out once. */
const preloadFaces: Plugin = {
  name: 'preload-faces',
  transformIndexHtml: {
    order: 'post',
    handler: (_html, { bundle }) => {
      const files = Object.keys(bundle ?? {}).filter((file) => firstFaces.test(file));
      if (files.length !== 4) throw new Error('The faces of the first screen were not found');
      return files.map((file) => ({
        tag: 'link',
        attrs: { rel: 'preload', as: 'font', type: 'font/ttf', crossorigin: true, href: `/${file}` },
        injectTo: 'head',
      }));
    },
  },
};

interface Modules {
  getModuleInfo(id: string): { readonly importedIds: readonly string[] } | null;
}

/** A module and all it cannot run without. */
const closure = (from: string, modules: Modules, found = new Set<string>()): ReadonlySet<string> => {
  if (found.has(from)) return found;
  found.add(from);
  for (const id of modules.getModuleInfo(from)?.importedIds ?? []) closure(id, modules, found);
  return found;
};

const longestList = inProject('renderer/areas/builds/BuildsArea.svelte');
const shared = /renderer[\\/](?:parts|lib)[\\/]|electron[\\/]|node_modules[\\/](?!chart\.js|@kurkle)/;

/**
 * The piece a module goes into: what every screen stands on, with the longest list; what lies over a screen, with the
 * headless components; what else screens share. A screen's own modules stay with it.
 */
const pieceOf = (id: string, modules: Modules): string | null => {
  if (closure(firstPage, modules).has(id) || closure(longestList, modules).has(id)) return 'common';
  if (!shared.test(id)) return null;
  return [...closure(id, modules)].some((one) => headless.test(one)) ? 'over' : 'forms';
};

export default defineConfig({
  root: inProject('renderer'),
  publicDir: false,
  cacheDir: inProject('.out/vite-cache'),
  clearScreen: false,
  logLevel: 'warn',
  plugins: [
    plainIcons,
    preloadPage,
    preloadFaces,
    svelte({ configFile: false, compilerOptions: { fragments: 'tree' } }),
  ],
  build: {
    outDir: inProject('.out/renderer'),
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    chunkSizeWarningLimit: 900,
    // Few files rather than many small ones: each costs the first screen more than its bytes do. Charts come when drawn.
    cssCodeSplit: true,
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            // The first script must wait for no other one; what it holds is wanted before anything can be shown.
            {
              name: 'first',
              test: /renderer[\\/](?:main|lib[\\/](?:ahead|first-questions|rows-in-sight|session|transport))\.ts|preload-helper/,
              priority: 3,
            },
            { name: pieceOf, debugName: 'pieces' },
          ],
        },
      },
    },
  },
});
