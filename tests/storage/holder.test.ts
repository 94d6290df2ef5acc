import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { FaultError } from '../../electron/api/errors.ts';
import type { Holder } from '../../electron/storage/holder.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { CHILD_TIMEOUT_MS, ended, firstLine, runChild, startChild, tempWorkshop } from './support.ts';
import { smallCore } from './small-core.ts';

const refusalOf = (root: string): Promise<string> =>
  smallCore(root).then(
    () => 'it opened',
    (error: unknown) =>
      error instanceof FaultError ? `${error.fault.kind}: ${error.fault.message}` : String(error),
  );

const sideFile = (root: string): Holder =>
  JSON.parse(fs.readFileSync(workshopFolder(root).holder, 'utf8')) as Holder;

describe('who holds the workshop', { timeout: CHILD_TIMEOUT_MS }, () => {
  it('is told to a second program, and a killed holder leaves nothing to clean up', async () => {
    const root = tempWorkshop();
    const child = startChild(['keepOpen', root], { NODE_OPTIONS: '--expose-gc' });
    const gone = ended(child);
    await firstLine(child);
    const since = sideFile(root).since;
    // Long enough for the child's garbage to be collected many times over.
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(await refusalOf(root)).toBe(
      `storage: This workshop is already open in Child keepOpen (loopback, process ${child.pid}, since ${since.slice(0, 10)} ${since.slice(11, 16)} UTC). Use it there, or close it there first.`,
    );
    child.kill('SIGKILL');
    await gone;
    const core = await smallCore(root);
    expect(sideFile(root).pid).toBe(process.pid);
    await core.close();
    expect(fs.existsSync(workshopFolder(root).holder)).toBe(false);
  });

  it('works the other way round, and while the first is at work', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    const second = await runChild(['openAndClose', root]);
    expect([second.code, second.said]).toMatchObject([
      3,
      [{ refused: { kind: 'storage', message: expect.stringContaining('Test bench') as string } }],
    ]);
    expect(await core.call('notes.add', { text: 'still at work' })).toMatchObject({ ok: true, seq: 1 });
    await core.close();
  });

  it('counts within one process too, and does not lose the first one its lock', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    expect([await refusalOf(root), await refusalOf(root)]).toEqual([
      expect.stringContaining('already open'),
      expect.stringContaining('already open'),
    ]);
    expect((await runChild(['openAndClose', root])).code).toBe(3);
    await core.close();
  });

  it('is a plain refusal when the side file says nothing', async () => {
    const root = tempWorkshop();
    const core = await smallCore(root);
    fs.writeFileSync(workshopFolder(root).holder, '{"name":');
    expect(await refusalOf(root)).toContain('another program, which has not said its name');
    await core.close();
  });
});
