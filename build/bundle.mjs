/** Builds Knifewright into the output folder: programs with esbuild, pages with vite; only what changed. */
import path from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { unlessUnchanged } from './fingerprint.mjs';
import { outFolder, root } from './places.mjs';
import { bundlePrograms, programs } from './programs.mjs';
import { PlainFailure, say, withoutAddresses } from './say.mjs';

const buildPages = async () => {
  const { build } = await import('vite');
  try {
    await build({ configFile: path.join(root, 'build', 'vite.config.ts') });
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    throw new PlainFailure(
      `The pages could not be built:\n${withoutAddresses(stripVTControlCharacters(message))}`,
    );
  }
};

/** Sources of the whole application: pages and programs share the contract and the domain. */
const shared = ['electron', 'package.json', 'package-lock.json', 'tsconfig.json'];

/** Builds what changed since the last time, and says so. */
export const bundle = async () => {
  const started = performance.now();
  const programsDone = await unlessUnchanged(
    {
      base: root,
      sources: [...shared, 'migrations', 'build/programs.mjs'],
      stamp: path.join(outFolder, 'programs.stamp'),
      products: programs.map((program) => path.join(outFolder, program.output)),
    },
    bundlePrograms,
  );
  const pagesDone = await unlessUnchanged(
    {
      base: root,
      sources: [...shared, 'renderer', 'build/vite.config.ts', 'build/plain-icons.mjs', 'build/icons'],
      stamp: path.join(outFolder, 'pages.stamp'),
      products: [path.join(outFolder, 'renderer', 'index.html')],
    },
    buildPages,
  );
  if (!programsDone && !pagesDone) return;
  say(`Built Knifewright in ${((performance.now() - started) / 1000).toFixed(1)} s.`);
};
