/** Electron's own security checklist (electron/electron docs/tutorial/security.md, 20 items), what shows in the source. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { contentSecurityPolicy, pageHeaders } from '../../electron/hosting/page-policy.ts';
import { filesWith, root, sourcesIn, textOf } from './support.ts';

const major = (version: string): number => Number.parseInt(version, 10);

/** The source without its comments, so that a word of explanation counts as nothing. */
const code = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');

describe('the checklist of the desktop', () => {
  it('1 no source of page or window names an insecure address', () => {
    const insecure = /['"`](?:http|ws|ftp):\/\//;
    const named = ['renderer', 'electron/shell', 'electron/hosting']
      .flatMap(sourcesIn)
      .filter(({ text }) => insecure.test(code(text).replaceAll('http://www.w3.org/', '')))
      .map(({ name }) => name);
    expect(named).toEqual([]);
  });

  it('2 no file switches Node on for a page', () => {
    expect(filesWith('electron', /nodeIntegration(?:InWorker|InSubFrames)?\s*:\s*true/)).toEqual([]);
  });

  it('3 no file switches the isolation of the preload off', () => {
    expect(filesWith('electron', /contextIsolation\s*:\s*false/)).toEqual([]);
  });

  it('4 the sandbox is switched on for every page before the application is ready', () => {
    const text = code(textOf('electron/shell/desktop.ts'));
    const start = text.slice(text.indexOf('export const startDesktop'));
    expect(start.indexOf('app.enableSandbox()')).toBeGreaterThan(0);
    expect(start.indexOf('app.enableSandbox()')).toBeLessThan(start.indexOf('open(options)'));
    const scripts = JSON.stringify((JSON.parse(textOf('package.json')) as { scripts: unknown }).scripts);
    expect([scripts.includes('no-sandbox'), filesWith('electron', /no-sandbox|sandbox\s*:\s*false/)]).toEqual(
      [false, []],
    );
  });

  it('5 permission requests, checks and devices each have a handler that asks the policy', () => {
    const text = code(textOf('electron/shell/wire-page.ts'));
    for (const handler of [
      'setPermissionRequestHandler',
      'setPermissionCheckHandler',
      'setDevicePermissionHandler',
    ]) {
      expect(text).toMatch(new RegExp(`${handler}\\([^;]*mayUse\\(`));
    }
  });

  it('6 no file switches the web’s own security off', () => {
    expect(filesWith('electron', /webSecurity|disable-web-security/)).toEqual([]);
  });

  it('7 the content policy allows nothing by default and has no unsafe exception', () => {
    const rules = new Map(
      contentSecurityPolicy.split('; ').map((rule) => [rule.split(' ')[0], rule.split(' ').slice(1)]),
    );
    expect(rules.get('default-src')).toEqual(["'none'"]);
    expect(rules.get('script-src')).toEqual(["'self'"]);
    expect(rules.get('require-trusted-types-for')).toEqual(["'script'"]);
    expect(contentSecurityPolicy).not.toMatch(/unsafe|\*|https?:/);
    expect(pageHeaders['Content-Security-Policy']).toBe(contentSecurityPolicy);
    // Both hosts take their headers from the one list.
    expect(filesWith('electron', /pageHeaders/)).toEqual([
      'electron/hosting/page-policy.ts',
      'electron/shell/wire-page.ts',
      'electron/webhost/reply.ts',
    ]);
  });

  it('8 no file allows insecure content in a page', () => {
    expect(filesWith('electron', /allowRunningInsecureContent/)).toEqual([]);
  });

  it('9 no file switches experimental features on', () => {
    expect(filesWith('electron', /experimentalFeatures/)).toEqual([]);
  });

  it('10 no file switches Blink features on', () => {
    expect(filesWith('electron', /enableBlinkFeatures|enable-blink-features/)).toEqual([]);
  });

  it('11 no page may hold a web view', () => {
    expect([...filesWith('electron', /webviewTag/), ...filesWith('renderer', /<webview/)]).toEqual([]);
  });

  it('12 attaching a web view is always prevented', () => {
    expect(code(textOf('electron/shell/wire-page.ts'))).toMatch(
      /contents\.on\('will-attach-webview', \(event\) => event\.preventDefault\(\)\)/,
    );
  });

  it('13 every kind of navigation asks the policy', () => {
    const text = code(textOf('electron/shell/wire-page.ts'));
    for (const kind of ['will-navigate', 'will-frame-navigate', 'will-redirect']) {
      expect(text).toMatch(new RegExp(`'${kind}', \\(event\\) => \\{[^}]*mayNavigate\\(event\\.url\\)`));
    }
  });

  it('14 the window-open handler answers with the policy and nothing else', () => {
    const text = code(textOf('electron/shell/wire-page.ts'));
    expect(text).toMatch(/setWindowOpenHandler\(\(\{ url \}\) => \{[^}]*return windowOpenAnswer\(url\);/);
    expect(filesWith('electron', /action: 'allow'/)).toEqual([]);
  });

  it('15 addresses are handed on in one place, after the policy, and only our own folder is shown', () => {
    expect(filesWith('electron', /openExternal\(/)).toEqual(['electron/shell/wire-page.ts']);
    expect(textOf('electron/shell/wire-page.ts')).toContain(
      'const allowed = externalAddress(address);\n  if (allowed !== undefined) void shell.openExternal(allowed);',
    );
    expect(filesWith('electron', /showItemInFolder|openPath\(/)).toEqual(['electron/shell/desktop.ts']);
    expect(textOf('electron/shell/desktop.ts')).toContain('shell.openPath(workshop.info().folder)');
  });

  it('16 the version of Electron is pinned and shown to the person', () => {
    const { devDependencies } = JSON.parse(textOf('package.json')) as {
      devDependencies: Record<string, string>;
    };
    expect(devDependencies['electron']).toMatch(/^\d+\.\d+\.\d+$/);
    expect(major(devDependencies['electron'] ?? '0')).toBeGreaterThanOrEqual(45);
    expect(textOf('electron/shell/desktop.ts')).toContain('Electron ${electron}');
  });

  it('17 there is one channel, behind one wrapper that asks who is calling first', () => {
    expect(filesWith('electron', /\bipcMain\b/)).toEqual(['electron/shell/wire-calls.ts']);
    const text = code(textOf('electron/shell/wire-calls.ts'));
    expect(text.match(/ipcMain\./g)?.length).toBe(1);
    expect(text.indexOf('mayCall(senderOf(event))')).toBeLessThan(text.indexOf('port.call('));
  });

  it('18 pages come from the scheme of the application, never from files', () => {
    expect(filesWith('electron', /protocol\.handle\(|registerSchemesAsPrivileged\(/)).toEqual([
      'electron/shell/wire-page.ts',
    ]);
    expect(filesWith('electron', /loadFile\(|bypassCSP/)).toEqual([]);
    expect(filesWith('electron', /loadURL\(/)).toEqual(['electron/shell/window.ts']);
    expect(textOf('electron/shell/window.ts')).toContain('loadURL(`${bundleOrigin}/`)');
  });

  it('19 the packaging sets every fuse, and a new one breaks the build', () => {
    expect(filesWith('build', /strictlyRequireAllFuses: true/)).not.toEqual([]);
  });

  it('20 the preload is short and hands the page one frozen object with one call', async () => {
    const text = textOf('electron/preload.ts');
    expect(text.split('\n').length).toBeLessThan(30);
    expect(text.match(/exposeInMainWorld/g)?.length).toBe(1);
    const exposed: Record<string, object> = {};
    const sent: unknown[][] = [];
    const electron = {
      contextBridge: {
        exposeInMainWorld: (name: string, api: object) => {
          exposed[name] = api;
        },
      },
      ipcRenderer: {
        invoke: (...words: unknown[]) => {
          sent.push(words);
          return Promise.resolve({ ok: true, value: 1, seq: 1 });
        },
      },
    };
    const built = await build({
      entryPoints: [fileURLToPath(new URL('../../electron/preload.ts', import.meta.url))],
      bundle: true,
      format: 'cjs',
      platform: 'node',
      external: ['electron'],
      write: false,
    });
    const bundle = built.outputFiles[0]?.text ?? '';
    const wanted: string[] = [];
    const load = (name: string): unknown => {
      wanted.push(name);
      return electron;
    };
    // The bundle runs as Electron would run it: with a `require` that knows only the desktop's own module.
    const run = Reflect.construct(Function, ['require', 'module', 'exports', bundle]) as (
      ...words: unknown[]
    ) => void;
    run(load, { exports: {} }, {});
    expect(wanted).toEqual(['electron']);
    expect(Object.keys(exposed)).toEqual(['knifewright']);
    const bridge = exposed['knifewright'] as { call(name: unknown, input: unknown): Promise<unknown> };
    expect([Object.keys(bridge), Object.isFrozen(bridge)]).toEqual([['call'], true]);
    for (const name of ['nothing.here', '__proto__', 'toString', '', 7, undefined, ['host.info']]) {
      expect(await bridge.call(name, {})).toMatchObject({ ok: false, fault: { kind: 'forbidden' } });
    }
    expect(sent).toEqual([]);
    expect(await bridge.call('host.info', {})).toEqual({ ok: true, value: 1, seq: 1 });
    expect(sent).toEqual([['knifewright:call', 'host.info', {}]]);
  });

  it('touches Electron only in the thin layer', () => {
    const thin = ['desktop', 'save-file', 'window', 'wire-calls', 'wire-page'].map(
      (name) => `electron/shell/${name}.ts`,
    );
    const touching = filesWith('electron', /^import \{[^}]*\} from 'electron'/m);
    expect(touching).toEqual(['electron/main.ts', 'electron/preload.ts', ...thin]);
    expect(filesWith('electron', /new BrowserWindow\(/)).toEqual(['electron/shell/window.ts']);
    expect(filesWith('electron', /\bsession\.defaultSession/)).toEqual(['electron/shell/wire-page.ts']);
  });

  it('has at least one test for every item of the checklist', () => {
    const tests = ['checklist.test.ts', 'policies.test.ts'].map((name) =>
      readFileSync(`${root}tests/shell/${name}`, 'utf8'),
    );
    const titles = tests.flatMap((text) =>
      [...text.matchAll(/(?:it|\))\(\s*'((?:\d+ )+)/g)].map((match) => match[1] ?? ''),
    );
    const numbers = new Set(titles.flatMap((title) => title.trim().split(' ')).map(Number));
    const absent = Array.from({ length: 20 }, (_, i) => i + 1).filter((item) => !numbers.has(item));
    expect(absent).toEqual([]);
  });
});
