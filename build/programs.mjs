/** The programs that run outside the page, bundled so that the host starts quickly. */
import { existsSync } from 'node:fs';
import { createRequire, isBuiltin } from 'node:module';
import path from 'node:path';
import { outFolder, root } from './places.mjs';
import { PlainFailure } from './say.mjs';

/** Loaded as packages at run time: native code, data files beside the code, or part of the desktop itself. */
const leftOutside = ['better-sqlite3', 'pdfkit', 'electron'];

/** Packages in the older module form ask for `require`, which a module has not. */
const requireForModules =
  "const require = process.getBuiltinModule('node:module').createRequire(import.meta.url);";

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

/**
 * Node's own modules are fetched by call rather than imported: an import hands over every name a module has, and for
 * `http` that loads a whole web client. Only the names in use stay, because the others are marked as free of effects.
 * @type {import('esbuild').Plugin}
 */
const leanBuiltins = {
  name: 'lean-builtins',
  setup: (build) => {
    build.onResolve({ filter: /^node:/ }, ({ kind, path: name }) =>
      kind === 'import-statement' && isBuiltin(name) ? { path: name, namespace: 'lean' } : undefined,
    );
    build.onLoad({ filter: /.*/, namespace: 'lean' }, async ({ path: name }) => {
      const whole = /** @type {Record<string, unknown>} */ (await import(name));
      const names = Object.keys(whole).filter((each) => each !== 'default');
      const parts = names.map((each) => `export const ${each} = /* @__PURE__ */ (() => whole.${each})();`);
      return {
        contents: `const whole = process.getBuiltinModule('${name}');\nexport default whole;\n${parts.join('\n')}`,
      };
    });
  },
};

/**
 * The words of the database driver travel with the program, which then has one file of it to find instead of a dozen:
 * the one that knows where its native part lies, and therefore stays where it is.
 * @type {import('esbuild').Plugin}
 */
const driverInside = {
  name: 'driver-inside',
  setup: (build) => {
    const driver = createRequire(import.meta.url).resolve('better-sqlite3');
    build.onResolve({ filter: /^better-sqlite3$/ }, () => ({ path: driver }));
    build.onLoad({ filter: /better-sqlite3[\\/]lib[\\/]binding\.js$/ }, () => ({
      contents: `const load = require;
        const { dirname, join } = load('node:path');
        module.exports = load(join(dirname(load.resolve('better-sqlite3')), 'binding.js'));`,
    }));
  },
};

/**
 * What comes late stays out of the one file and is found beside it.
 * @type {import('esbuild').Plugin}
 */
const lateApart = {
  name: 'late-apart',
  setup: (build) => {
    build.onResolve({ filter: /\.ts$/ }, ({ kind, path: name, resolveDir }) =>
      kind === 'dynamic-import' && path.join(resolveDir, name) === path.join(root, late)
        ? { path: `./${outputName(late, 'esm')}`, external: true }
        : undefined,
    );
  },
};

/**
 * @typedef {object} Program
 * @property {string} source in the project
 * @property {string} output in the output folder
 */

/** What a host asks for late, and shares with its threads: the schema library is most of it. */
const late = 'electron/api/host.ts';

/** Programs built together share their pieces, and load the later ones only when they are wanted. */
const threads = ['electron/workshop/engine-worker.ts', 'electron/documents/documents-worker.ts', late];

/**
 * A host starts sooner from one small file than from several that each have to be found.
 * @type {readonly { readonly folder: string, readonly sources: readonly string[], readonly format: 'esm' | 'cjs', readonly oneFile?: boolean }[]}
 */
const groups = [
  { folder: 'host', sources: ['electron/webhost/main.ts'], format: 'esm', oneFile: true },
  { folder: 'host', sources: threads, format: 'esm' },
  { folder: 'desktop', sources: ['electron/main.ts'], format: 'esm', oneFile: true },
  { folder: 'desktop', sources: threads, format: 'esm' },
  // A sandboxed preload may only be one file in the older module form.
  { folder: 'desktop', sources: ['electron/preload.ts'], format: 'cjs', oneFile: true },
];

/** @param {string} source @param {'esm' | 'cjs'} format */
const outputName = (source, format) => `${path.basename(source, '.ts')}.${format === 'esm' ? 'js' : 'cjs'}`;

/** @type {readonly Program[]} */
export const programs = groups.flatMap(({ folder, sources, format }) =>
  sources.map((source) => ({ source, output: `${folder}/${outputName(source, format)}` })),
);

/** @param {typeof groups[number]} group @returns {import('esbuild').BuildOptions} */
const optionsFor = ({ folder, sources, format, oneFile = false }) => ({
  entryPoints: sources.map((source) => path.join(root, source)),
  outdir: path.join(outFolder, folder),
  entryNames: '[name]',
  chunkNames: 'pieces/[name]-[hash]',
  outExtension: { '.js': format === 'esm' ? '.js' : '.cjs' },
  splitting: !oneFile,
  bundle: true,
  platform: 'node',
  target: 'node22',
  format,
  external: format === 'cjs' ? ['electron'] : leftOutside,
  mainFields: ['module', 'main'],
  ...(format === 'esm' ? { banner: { js: requireForModules } } : {}),
  plugins: [
    onlyEnglishMessages,
    ...(format === 'esm' ? [leanBuiltins, driverInside] : []),
    ...(oneFile ? [lateApart] : []),
  ],
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
