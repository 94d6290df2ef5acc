import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Fault } from '../../electron/api/errors.ts';
import { createOpener } from '../../electron/hosting/open-workshop.ts';
import { startEngine } from '../../electron/workshop/engine.ts';
import { quickFolder } from '../folders.ts';
import { createFakePort } from './support/fake-port.ts';

describe('opening the demo workshop', () => {
  let folder: string;
  beforeAll(() => {
    folder = quickFolder('kw-demo-');
  });

  it('makes it whole the first time, keeps it, and leaves the own workshop alone', async () => {
    const folders = { own: join(folder, 'own'), demo: join(folder, 'demo') };
    const said = new Set<string>();
    const open = createOpener({
      kind: 'loopback',
      folders,
      startEngine,
      onProgress: (sentence) => said.add(sentence),
    });
    const first = await open('demo');
    const state = await first.call('workshop.state', {});
    expect(state).toMatchObject({
      ok: true,
      value: { isSetUp: true, demo: true, today: '2026-01-04', workshop: { name: 'Sedgewarren Edge Shop' } },
    });
    await first.close();
    expect([said.has('Setting up the demo workshop'), said.has('Demo workshop: December 2024')]).toEqual([
      true,
      true,
    ]);
    said.clear();
    const again = await open('demo');
    const kept = await again.call('workshop.state', {});
    expect([kept.ok && state.ok && kept.seq === state.seq, said.size]).toEqual([true, 0]);
    await again.close();
    expect(readdirSync(folder)).toEqual(['demo']);
  }, 240_000);

  it('leaves nothing behind when it cannot be made, and clears what an older failure has left', async () => {
    const place = join(folder, 'failing');
    const folders = { own: join(place, 'own'), demo: join(place, 'demo') };
    const leftover = (name: string, hoursOld: number): void => {
      mkdirSync(join(place, name), { recursive: true });
      writeFileSync(join(place, name, 'a'), 'x');
      const then = Date.now() / 1000 - hoursOld * 3600;
      utimesSync(join(place, name), then, then);
    };
    leftover('demo.0123.making', 2);
    leftover('demo.4567.making', 0);
    leftover('demonstration', 2);
    const opened: string[] = [];
    const full: Fault = { kind: 'storage', message: 'The disk is full.' };
    const open = createOpener({
      kind: 'desktop',
      folders,
      startEngine: (options) => {
        opened.push(options.folder);
        mkdirSync(options.folder, { recursive: true });
        return Promise.resolve({
          ...createFakePort(),
          call: () => Promise.resolve({ ok: false, fault: full }),
        });
      },
    });
    await expect(open('demo')).rejects.toThrow(full.message);
    expect(opened.map((each) => /^demo\.[0-9a-f]{12}\.making$/.test(each.slice(place.length + 1)))).toEqual([
      true,
    ]);
    expect(existsSync(folders.demo)).toBe(false);
    expect(readdirSync(place).sort()).toEqual(['demo.4567.making', 'demonstration']);
  });
});
