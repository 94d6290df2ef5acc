/** `npm run build`: builds Knifewright without starting it. */
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';
import { runMain, say } from './say.mjs';
import { withSetup } from './setup.mjs';

await runMain(() =>
  withSetup(fileURLToPath(import.meta.url), async () => {
    await bundle();
    say('Everything is built.');
    return 0;
  }),
);
