/** A workshop in a folder of its own, set up and with stock, for tests that begin later in the story. */
import { renameSync } from 'node:fs';
import { join } from 'node:path';
import { openRig, type Rig } from '../../workshop/rig.ts';
import { newFolder } from './house.ts';

/** Makes the books through the contract and answers the folder `startHouse` opens. */
export const readyShop = async (fill: (rig: Rig) => Promise<void>): Promise<string> => {
  const rig = await openRig();
  await fill(rig);
  await rig.close({ keep: true });
  const folder = newFolder();
  renameSync(rig.folder, join(folder, 'shop'));
  return folder;
};
