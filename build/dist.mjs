/** `npm run dist`: packs the installable desktop program for this machine's kind. */
import { fileURLToPath } from 'node:url';
import path from 'node:path';
import { bundle } from './bundle.mjs';
import { desktopProgram } from './desktop-binary.mjs';
import { packageFile, root } from './places.mjs';
import { runShown } from './run.mjs';
import { PlainFailure, runMain } from './say.mjs';
import { withSetup } from './setup.mjs';

await runMain(() =>
  withSetup(fileURLToPath(import.meta.url), async () => {
    await bundle();
    if ((await desktopProgram()) === undefined) {
      throw new PlainFailure(
        'The desktop program that is to be packed is not here and could not be fetched. Try again with a network connection.',
      );
    }
    const config = path.join(root, 'build', 'electron-builder.config.mjs');
    const builder = packageFile('electron-builder/cli.js');
    const outcome = await runShown(process.execPath, [builder, '--config', config, '--publish', 'never'], {
      cwd: root,
    });
    return outcome.code;
  }),
);
