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
 * @property {'esm' | 'cjs'} format
 */

/** @type {readonly Program[]} */
const workers = [
  { source: 'electron/workshop/engine-worker.ts', output: 'engine-worker.js', format: 'esm' },
  { source: 'electron/documents/documents-worker.ts', output: 'documents-worker.js', format: 'esm' },
];

/** @param {string} folder @returns {Program[]} */
const workersIn = (folder) => workers.map((worker) => ({ ...worker, output: `${folder}/${worker.output}` }));

/** @type {readonly Program[]} */
export const programs = [
  { source: 'electron/webhost/main.ts', output: 'host/main.js', format: 'esm' },
  ...workersIn('host'),
  { source: 'electron/main.ts', output: 'desktop/main.js', format: 'esm' },
  ...workersIn('desktop'),
  // A sandboxed preload may only be one file in the older module form.
  { source: 'electron/preload.ts', output: 'desktop/preload.cjs', format: 'cjs' },
];

/** @param {Program} program @returns {import('esbuild').BuildOptions} */
const optionsFor = (program) => ({
  entryPoints: [path.join(root, program.source)],
  outfile: path.join(outFolder, program.output),
  bundle: true,
  platform: 'node',
  target: 'node22',
  format: program.format,
  external: program.format === 'cjs' ? ['electron'] : leftOutside,
  mainFields: ['module', 'main'],
  ...(program.format === 'esm' ? { banner: { js: requireForModules } } : {}),
  plugins: [onlyEnglishMessages, httpWithoutClient],
  minifySyntax: true,
  minifyWhitespace: true,
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
    programs.map(async (program) => {
      try {
        await build(optionsFor(program));
      } catch (error) {
        const errors = /** @type {import('esbuild').BuildFailure} */ (error).errors;
        const lines = await formatMessages(errors, { kind: 'error', color: false });
        throw new PlainFailure(`${program.source} could not be bundled:\n${lines.slice(0, 5).join('')}`);
      }
    }),
  );
};
