/** `npm run pictures`: takes the README's pictures of the demo workshop in a real browser. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';
import { obtainChromium } from './chromium.mjs';
import { root } from './places.mjs';
import { runShown } from './run.mjs';
import { PlainFailure, runMain } from './say.mjs';
import { withSetup } from './setup.mjs';

const script = path.join(root, 'build', 'take-pictures.ts');

await runMain(() =>
  withSetup(fileURLToPath(import.meta.url), async () => {
    if (!existsSync(script)) throw new PlainFailure('build/take-pictures.ts is missing.');
    const env = { ...process.env, KNIFEWRIGHT_CHROMIUM: await obtainChromium() };
    await bundle();
    return (await runShown(process.execPath, [script], { cwd: root, env })).code;
  }),
);
