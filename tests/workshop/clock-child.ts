/** Switches a real clock from one work to the next without end, one minute each, until it is killed: `node clock-child.ts <folder>`. */
import { openRig } from './rig.ts';

const [folder = '', from = ''] = process.argv.slice(2);
const work = { workKind: 'cleaning' as const, stageCode: null, buildIds: [] };
const rig = await openRig({ folder, now: from, ids: `k${String(process.pid)}-` });
let at = Date.parse(from);
for (let n = 0; ; n += 1) {
  at += 60_000;
  rig.clock.set(new Date(at).toISOString());
  const { clock } = await rig.call('hours.switch', { ...work, note: `no. ${String(n)}` });
  process.stdout.write(`${clock.startedAt}\n`);
}
