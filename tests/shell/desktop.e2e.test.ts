import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ElectronApplication, Page } from 'playwright-core';
import { _electron } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { electronProgram, root } from './support.ts';

const program = electronProgram();
const built = existsSync(join(root, '.out/desktop/main.js'));
const hasScreen = process.platform !== 'linux' || process.env['DISPLAY'] !== undefined;
const isRoot = process.getuid?.() === 0;

/** The sandbox does not start for root, and this application never runs without it. */
const canRun = program !== undefined && built && hasScreen && !isRoot;

// Needs the Electron program, a screen and a person who is not root; counted as skipped where one is missing.
describe.runIf(canRun)('the desktop window', () => {
  let folder: string;
  let desktop: ElectronApplication;
  let page: Page;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'kw-desktop-'));
    const args = [root, '--data', join(folder, 'books'), `--user-data-dir=${join(folder, 'profile')}`];
    desktop = await _electron.launch({ executablePath: program ?? '', args });
    page = await desktop.firstWindow();
  });
  afterAll(async () => {
    await desktop.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('1 18 shows the bundled page and can read no file of the machine', async () => {
    expect(page.url()).toMatch(/^app:\/\/bundle\//);
    const read = await page.evaluate(() =>
      fetch('file:///etc/hostname').then(
        () => 'read',
        () => 'refused',
      ),
    );
    expect(read).toBe('refused');
  });

  it('2 20 gives the page one frozen object and nothing of Node', async () => {
    const seen = await page.evaluate(() => ({
      keys: Object.keys(window.knifewright ?? {}),
      node: ['require', 'process', 'module', 'Buffer'].filter((name) => name in window),
    }));
    expect(seen).toEqual({ keys: ['call'], node: [] });
  });

  it('4 runs the page in the sandbox', async () => {
    const preferences = await desktop.evaluate(({ BrowserWindow }) => {
      const contents = BrowserWindow.getAllWindows()[0]?.webContents as unknown as {
        getLastWebPreferences(): { sandbox?: boolean; contextIsolation?: boolean; nodeIntegration?: boolean };
      };
      const { sandbox, contextIsolation, nodeIntegration } = contents.getLastWebPreferences();
      return { sandbox, contextIsolation, nodeIntegration };
    });
    expect(preferences).toEqual({ sandbox: true, contextIsolation: true, nodeIntegration: false });
  });

  it('5 grants no permission', async () => {
    const states = await page.evaluate(async () => {
      const names = ['geolocation', 'notifications', 'camera', 'microphone'] as PermissionName[];
      return Promise.all(names.map(async (name) => (await navigator.permissions.query({ name })).state));
    });
    expect(new Set(states)).toEqual(new Set(['denied']));
  });

  it('13 14 stays on its page and in its one window', async () => {
    const before = page.url();
    await page.evaluate(() => {
      for (const href of ['https://example.test/', 'file:///etc/passwd', 'app://other/']) {
        const link = document.createElement('a');
        link.href = href;
        document.body.append(link);
        link.click();
        window.open(href);
      }
    });
    await page.waitForTimeout(500);
    expect([page.url(), desktop.windows().length]).toEqual([before, 1]);
  });

  it('17 answers calls of its page and refuses unknown names', async () => {
    const replies = await page.evaluate(async () => [
      await window.knifewright?.call('host.info', {}),
      await window.knifewright?.call('__proto__', {}),
    ]);
    expect(replies).toMatchObject([{ ok: true }, { ok: false, fault: { kind: 'forbidden' } }]);
  });
});
