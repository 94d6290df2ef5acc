/** A whole host process over a workshop in memory: what the real entry does, without the books. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { parseFlags } from '../../../electron/hosting/flags.ts';
import { workshopFolders } from '../../../electron/hosting/folders.ts';
import { runLoopback } from '../../../electron/webhost/host.ts';
import { createFakePort } from './fake-port.ts';

const print = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

const read = parseFlags(process.argv.slice(2));
if (!read.ok || read.flags.data === undefined) throw new Error('the test passes --data');
const folders = workshopFolders({ platform: 'linux', env: {}, home: '/' }, read.flags.data);
mkdirSync(folders.own, { recursive: true, mode: 0o700 });

const workshop = createFakePort({
  before: async (endpoint) => {
    if (endpoint !== 'stock.saveSupplier') return;
    print('call begins');
    await new Promise((resolve) => setTimeout(resolve, 500));
    print('call ends');
  },
});
const host = await runLoopback({
  flags: read.flags,
  folders,
  rendererRoot: join(folders.own, '..', 'page'),
  version: '0.0.0-test',
  platform: 'linux',
  openWorkshop: () => Promise.resolve(workshop),
  print,
});
if (host !== undefined) {
  process.on('SIGTERM', () => void host.stop());
  process.on('SIGINT', () => void host.stop());
  await host.stopped;
  print(workshop.closed() ? 'workshop closed' : 'workshop left open');
}
process.exit(0);
