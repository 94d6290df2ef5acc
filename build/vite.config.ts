/**
 * The pages: Svelte compiled to plain files that a strict content policy accepts, so no inline script,
 * no style sheet or font inside an address, and templates built node by node for Trusted Types.
 */
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const inProject = (path: string): string => fileURLToPath(new URL(`../${path}`, import.meta.url));

export default defineConfig({
  root: inProject('renderer'),
  publicDir: false,
  cacheDir: inProject('.out/vite-cache'),
  clearScreen: false,
  logLevel: 'warn',
  plugins: [svelte({ configFile: false, compilerOptions: { fragments: 'tree' } })],
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
