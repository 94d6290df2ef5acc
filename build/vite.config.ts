/**
 * The pages: Svelte compiled to plain files that a strict content policy accepts, so no inline script,
 * no style sheet or font inside an address, and templates built node by node for Trusted Types.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';
import type { Plugin } from 'vite';

const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

/** Lets the browser fetch the page itself while it still reads the first script, which asks for it. */
const preloadPage: Plugin = {
  name: 'preload-page',
  transformIndexHtml: {
    order: 'post',
    handler: (html, { bundle }) => {
      const chunks = Object.values(bundle ?? {}).filter((one) => one.type === 'chunk');
      const page = chunks.find((one) => one.facadeModuleId?.endsWith('/renderer/page.ts') === true);
      if (page === undefined) throw new Error('The page was not found among the built files');
      const files = [page.fileName, ...page.imports].filter((file) => !html.includes(file));
      return files.map((file) => ({
        tag: 'link',
        attrs: { rel: 'modulepreload', crossorigin: true, href: `/${file}` },
        injectTo: 'head',
      }));
    },
  },
};

export default defineConfig({
  root: inProject('renderer'),
  publicDir: false,
  cacheDir: inProject('.out/vite-cache'),
  clearScreen: false,
  logLevel: 'warn',
  plugins: [preloadPage, svelte({ configFile: false, compilerOptions: { fragments: 'tree' } })],
  build: {
    outDir: inProject('.out/renderer'),
    emptyOutDir: true,
    target: 'es2023',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    chunkSizeWarningLimit: 900,
    // Few files rather than many small ones: each costs the first screen more than its bytes do. Charts come when drawn.
    cssCodeSplit: false,
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            // The first script must wait for no other one; what it holds is wanted before anything can be shown.
            {
              name: 'first',
              test: /renderer[\\/]lib[\\/](?:ahead|first-questions|session|transport)\.ts|preload-helper/,
              priority: 3,
            },
            { name: 'svelte', test: /node_modules[\\/](?:svelte|esm-env|clsx)[\\/]/, priority: 2 },
            {
              name: 'common',
              test: /renderer[\\/](?:parts|lib)[\\/]|electron[\\/]|node_modules[\\/](?!chart\.js|@kurkle)/,
            },
          ],
        },
      },
    },
  },
});
