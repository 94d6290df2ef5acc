/** Books in a temporary folder for the measurements, made through the contract as a person makes them. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { CoreEndpointName, Input, Output } from '../../electron/api/contract.ts';
import { FaultError } from '../../electron/api/errors.ts';
import { systemClock } from '../../electron/workshop/core-clock.ts';
import { randomId } from '../../electron/workshop/core-ids.ts';
import { type Core, createCore } from '../../electron/workshop/core.ts';
import { handlers } from '../../electron/workshop/index.ts';
import { noPress } from '../workshop/no-press.ts';
import { demoSetUp } from '../workshop/rig.ts';

/** A folder of its own under the system's temporary one. */
export const freshFolder = (): string => mkdtempSync(join(tmpdir(), 'knifewright-bench-'));

export const removeFolder = (folder: string): void => {
  rmSync(folder, { recursive: true, force: true });
};

/** A copy of closed books. */
export const copyOf = (folder: string): string => {
  const copy = freshFolder();
  cpSync(folder, copy, { recursive: true });
  return copy;
};

/** Opens the core on a folder, making the books where there are none. */
export const openBooks = (folder: string): Promise<Core> =>
  createCore({
    folder,
    create: true,
    clock: systemClock,
    newId: randomId,
    renderer: noPress('no papers here'),
    holderName: 'a measurement',
    handlers,
  });

/** Calls an endpoint and answers its value. @throws FaultError when it refuses */
export const call = async <N extends CoreEndpointName>(
  core: Core,
  name: N,
  input: Input<N>,
): Promise<Output<N>> => {
  const reply = await core.call(name, input);
  if (!reply.ok) throw new FaultError(reply.fault);
  return reply.value as Output<N>;
};

/** A workshop that has been set up and nothing more. */
export const setUp = async (folder: string): Promise<void> => {
  const core = await openBooks(folder);
  await call(core, 'workshop.setUp', demoSetUp);
  await core.close();
};

const stages = [
  { code: 'CUT', minutes: 35 },
  { code: 'GR2', minutes: 70 },
  { code: 'HND', minutes: 120 },
  { code: 'FIN', minutes: 75 },
];

/** Plans ten thousand knives of four models, the newest two hundred of them begun, with stages done. */
export const planManyKnives = async (core: Core): Promise<void> => {
  await call(core, 'workshop.setUp', demoSetUp);
  const models: string[] = [];
  for (const [code, name] of [
    ['PAR', 'Tessel paring'],
    ['PET', 'Orrin petty'],
    ['CHF', 'Quenby chef'],
    ['HUN', 'Fallow hunter'],
  ] as const) {
    models.push((await call(core, 'builds.saveModel', { code, name, stages, parts: [], flats: [] })).id);
  }
  let ids: readonly string[] = [];
  for (let at = 0; at < 200; at += 1) {
    const modelId = models[at % models.length] ?? '';
    const plan = { modelId, count: 50, on: '2024-07-06', batch: `B${String(at + 1)}` };
    ids = [...ids.slice(-150), ...(await call(core, 'builds.plan', plan)).ids];
  }
  for (const [at, id] of ids.entries()) {
    await call(core, 'builds.start', { id, on: '2024-07-07' });
    if (at % 2 === 0) await call(core, 'builds.stage', { id, code: 'CUT', done: true, on: '2024-07-08' });
  }
};
