/** How either host asks for a workshop to be opened. */
import type { HostInfo } from '../api/host.ts';
import type { EngineOptions } from '../workshop/engine-messages.ts';
import type { WorkshopFolders } from './folders.ts';
import type { WorkshopKind } from './workshop-switch.ts';

const holderNames: Readonly<Record<HostInfo['kind'], string>> = {
  desktop: 'the Knifewright window',
  loopback: 'Knifewright in the browser',
};

/** @param kind the host that asks; a second program on the same folder is told its name */
export const engineOptions = (
  kind: HostInfo['kind'],
  which: WorkshopKind,
  folders: WorkshopFolders,
): EngineOptions => ({
  folder: folders[which],
  create: true,
  holderName: holderNames[kind],
  hostKind: kind,
  demo: which === 'demo',
});
