import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FaultError } from '../../electron/api/errors.ts';
import type { SafetyCopy } from '../../electron/api/workshop.ts';
import { workshopFolder } from '../../electron/storage/folder.ts';
import { startEngine } from '../../electron/workshop/engine.ts';
import { CHILD_TIMEOUT_MS, tempFolder, tempWorkshop } from './support.ts';
import { smallCore } from './small-core.ts';

const worker = new URL('./small-engine-worker.ts', import.meta.url);
const start = (folder: string, create = true) =>
  startEngine({ folder, create, holderName: 'Engine bench', hostKind: 'loopback' }, worker);

const stopped = {
  ok: false,
  fault: { kind: 'storage', message: expect.stringContaining('has stopped') as string },
};

describe('the engine', { timeout: CHILD_TIMEOUT_MS }, () => {
  it('answers calls from its own thread, and a clean close lets go of everything', async () => {
    const root = tempWorkshop();
    const engine = await start(root);
    const replies = await Promise.all(['a', 'b', 'c'].map((text) => engine.call('notes.add', { text })));
    expect(replies.map((reply) => reply.ok && reply.seq)).toEqual([1, 2, 3]);
    expect(await engine.call('notes.add', {})).toMatchObject({
      ok: false,
      fault: { kind: 'invalid', field: 'text' },
    });
    await engine.close();
    expect(await engine.call('notes.all', {})).toMatchObject({ ok: false, fault: { kind: 'storage' } });
    expect(fs.readdirSync(root).sort()).toEqual([
      'attachments',
      'backups',
      'documents',
      'holder.lock',
      'workshop.db',
    ]);
    const core = await smallCore(root);
    expect(core.books.seq()).toBe(3);
    await core.close();
  });

  it('says why a folder cannot be opened', async () => {
    const root = tempFolder();
    fs.writeFileSync(path.join(root, 'workshop.db'), 'not books');
    const refusal = await start(root, false).then(
      () => undefined,
      (error: unknown) => (error as FaultError).fault,
    );
    expect(refusal).toMatchObject({
      kind: 'storage',
      message: expect.stringContaining('was not made by Knifewright') as string,
    });
  });

  it('answers everything under way when its thread dies, and starts again once', async () => {
    const root = tempWorkshop();
    const engine = await start(root);
    expect(await engine.call('notes.add', { text: 'kept' })).toMatchObject({ ok: true, seq: 1 });
    const pending = [
      engine.call('notes.slow', { ms: 5000 }),
      engine.call('notes.add', { text: 'behind it' }),
    ];
    await engine.kill();
    expect(await Promise.all(pending)).toEqual([stopped, stopped]);
    const [first, second] = await Promise.all([
      engine.call('notes.all', {}),
      engine.call('notes.add', { text: 'after' }),
    ]);
    expect([first, second]).toMatchObject([
      { ok: true, value: [{ text: 'kept' }] },
      { ok: true, seq: 2 },
    ]);
    await engine.kill();
    expect(await engine.call('notes.all', {})).toEqual(stopped);
    await engine.close();
  });

  it('holds its folder against a core in the same process', async () => {
    const root = tempWorkshop();
    const engine = await start(root);
    await expect(smallCore(root)).rejects.toThrow('already open in Engine bench (loopback');
    expect(await engine.call('notes.add', { text: 'still here' })).toMatchObject({ ok: true });
    await engine.close();
    expect(fs.existsSync(`${workshopFolder(root).books}-wal`)).toBe(false);
  });

  it('runs the whole house in its thread', async () => {
    const folder = tempWorkshop();
    const options = {
      folder,
      create: true,
      holderName: 'Engine bench',
      demo: true,
      demoAsOf: '2024-12-31T12:00:00.000Z',
    };
    const engine = await startEngine(options);
    const copy = await engine.call('workshop.copyNow', {});
    expect(await engine.call('workshop.state', {})).toMatchObject({
      ok: true,
      seq: 1,
      value: {
        isSetUp: false,
        demo: true,
        today: '2024-12-31',
        lastVerifiedCopy: copy.ok ? (copy.value as SafetyCopy).at : '',
      },
    });
    expect(await engine.call('workshop.copies', {})).toEqual({
      ok: true,
      seq: 1,
      value: [copy.ok && copy.value],
    });
    await engine.close();
  });
});
