/** `npm run bench`: measures Knifewright against bare floors in the same run and prints the ratios. */
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';
import { obtainChromium } from './chromium.mjs';
import { root } from './places.mjs';
import { runShown } from './run.mjs';
import { headline, PlainFailure, runMain } from './say.mjs';
import { withSetup } from './setup.mjs';

const folder = path.join(root, 'tests', 'bench');

/** Each measurement is a program of its own, named `*.bench.ts`, so that none warms up another. */
const measurements = () =>
  existsSync(folder)
    ? readdirSync(folder)
        .filter((name) => name.endsWith('.bench.ts'))
        .sort()
    : [];

const bench = async () => {
  const names = measurements();
  if (names.length === 0) throw new PlainFailure('There is no measurement in tests/bench.');
  const env = { ...process.env, TZ: 'UTC', KNIFEWRIGHT_CHROMIUM: await obtainChromium() };
  await bundle();
  let failed = 0;
  for (const name of names) {
    headline(name.replace('.bench.ts', '').replaceAll('-', ' '));
    const outcome = await runShown(process.execPath, [path.join(folder, name)], { cwd: root, env });
    if (outcome.code !== 0) failed += 1;
  }
  return failed === 0 ? 0 : 1;
};

await runMain(() => withSetup(fileURLToPath(import.meta.url), bench));
