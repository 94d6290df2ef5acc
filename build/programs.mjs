/** The programs that run outside the page, bundled so that the host starts quickly. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { outFolder, root } from './places.mjs';
import { PlainFailure } from './say.mjs';

/** Loaded as packages at run time: native code, data files beside the code, or part of the desktop itself. */
const leftOutside = ['better-sqlite3', 'pdfkit', 'electron'];

/** Packages in the older module form ask for `require`, which a module has not. */
const requireForModules =
  "import { createRequire as makeRequire } from 'node:module';\nconst require = makeRequire(import.meta.url);";

/**
 * The schema library carries its messages in fifty languages, half its size; the screens speak English, and a smaller
 * program starts sooner.
 * @type {import('esbuild').Plugin}
 */
const onlyEnglishMessages = {
  name: 'only-english-messages',
  setup: (build) => {
    build.onResolve({ filter: /\/locales\/index\.js$/ }, (found) => ({
      path: path.join(found.resolveDir, '..', 'locales', 'en.js'),
      namespace: 'only-english',
    }));
    build.onLoad({ filter: /.*/, namespace: 'only-english' }, ({ path: english }) => ({
      contents: `export { default as en } from ${JSON.stringify(english)};`,
      resolveDir: path.dirname(english),
    }));
  },
};

/** Parts of Node's `http` that are a web client, loaded (slowly) as soon as the module is imported by name. */
const webClient = new Set(['WebSocket', 'CloseEvent', 'MessageEvent']);

/**
 * A server needs no web client: `node:http` is handed over without it, which halves what the host loads at start.
 * @type {import('esbuild').Plugin}
 */
const httpWithoutClient = {
  name: 'http-without-client',
  setup: (build) => {
    build.onResolve({ filter: /^node:http$/ }, () => ({ path: 'node:http', namespace: 'lean' }));
    build.onLoad({ filter: /.*/, namespace: 'lean' }, async () => {
      const names = Object.keys(await import('node:http')).filter(
        (name) => name !== 'default' && !webClient.has(name),
      );
      return {
        contents: `export const { ${names.join(', ')} } = process.getBuiltinModule('node:http');`,
      };
    });
  },
};

/**
 * @typedef {object} Program
 * @property {string} source in the project
 * @property {string} output in the output folder
 */

/** Programs built together share their pieces, and load the later ones only when they are wanted. */
const workers = ['electron/workshop/engine-worker.ts', 'electron/documents/documents-worker.ts'];

/** @type {readonly { readonly folder: string, readonly sources: readonly string[], readonly format: 'esm' | 'cjs' }[]} */
const groups = [
  { folder: 'host', sources: ['electron/webhost/main.ts', ...workers], format: 'esm' },
  { folder: 'desktop', sources: ['electron/main.ts', ...workers], format: 'esm' },
  // A sandboxed preload may only be one file in the older module form.
  { folder: 'desktop', sources: ['electron/preload.ts'], format: 'cjs' },
];

/** @param {string} source @param {'esm' | 'cjs'} format */
const outputName = (source, format) => `${path.basename(source, '.ts')}.${format === 'esm' ? 'js' : 'cjs'}`;

/** @type {readonly Program[]} */
export const programs = groups.flatMap(({ folder, sources, format }) =>
  sources.map((source) => ({ source, output: `${folder}/${outputName(source, format)}` })),
);

/** @param {typeof groups[number]} group @returns {import('esbuild').BuildOptions} */
const optionsFor = ({ folder, sources, format }) => ({
  entryPoints: sources.map((source) => path.join(root, source)),
  outdir: path.join(outFolder, folder),
  entryNames: '[name]',
  chunkNames: 'pieces/[name]-[hash]',
  outExtension: { '.js': format === 'esm' ? '.js' : '.cjs' },
  splitting: format === 'esm',
  bundle: true,
  platform: 'node',
  target: 'node22',
  format,
  external: format === 'cjs' ? ['electron'] : leftOutside,
  mainFields: ['module', 'main'],
  ...(format === 'esm' ? { banner: { js: requireForModules } } : {}),
  plugins: [onlyEnglishMessages, httpWithoutClient],
  minify: true,
  sourcemap: 'linked',
  sourcesContent: false,
  legalComments: 'none',
  logLevel: 'silent',
});

/** Bundles every program; throws a plain failure that names the place of the first mistakes. */
export const bundlePrograms = async () => {
  const { build, formatMessages } = await import('esbuild');
  const absent = programs.find((program) => !existsSync(path.join(root, program.source)));
  if (absent !== undefined) {
    throw new PlainFailure(
      `The file ${absent.source} is missing. Restore it from the project and try again.`,
    );
  }
  await Promise.all(
    groups.map(async (group) => {
      try {
        await build(optionsFor(group));
      } catch (error) {
        const errors = /** @type {import('esbuild').BuildFailure} */ (error).errors;
        const lines = await formatMessages(errors, { kind: 'error', color: false });
        throw new PlainFailure(
          `${group.sources.join(', ')} could not be bundled:\n${lines.slice(0, 5).join('')}`,
        );
      }
    }),
  );
};
