import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Fault } from '../../electron/api/errors.ts';
import { createOpener } from '../../electron/hosting/open-workshop.ts';
import { quickFolder } from '../folders.ts';
import { createFakePort } from './support/fake-port.ts';

/** That it is made whole, kept, and leaves the own workshop alone is in `tests/e2e/demo.test.ts`. */
describe('opening the demo workshop', () => {
  it('leaves nothing behind when it cannot be made, and clears what an older failure has left', async () => {
    const place = quickFolder('kw-demo-');
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
