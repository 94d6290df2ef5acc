import { describe, expect, it } from 'vitest';
import { desktopArguments } from '../../electron/shell/arguments.ts';
import { menuTemplate } from '../../electron/shell/menu.ts';
import { safeFileName } from '../../electron/shell/save-name.ts';
import { placeWindow } from '../../electron/shell/window-state.ts';

const main = { x: 0, y: 25, width: 1920, height: 1055 };
const left = { x: -1280, y: 0, width: 1280, height: 1024 };
const small = { x: 0, y: 0, width: 800, height: 480 };

describe('where the window goes', () => {
  it.each([
    [undefined],
    [null],
    ['text'],
    [{}],
    [{ bounds: { x: 'a' }, maximized: 1 }],
    [{ bounds: { x: 1e9, y: 0, width: 1, height: 1 }, maximized: false }],
  ])('opens in the middle of the main screen when %j was remembered', (saved) => {
    expect(placeWindow(saved, [main, left])).toEqual({
      bounds: { x: 280, y: 122, width: 1360, height: 860 },
      maximized: false,
    });
  });

  it('comes back where it stood', () => {
    const saved = { bounds: { x: -1200, y: 100, width: 1000, height: 700 }, maximized: true };
    expect(placeWindow(saved, [main, left])).toEqual(saved);
  });

  it('is brought back whole when it hangs over an edge', () => {
    const saved = { bounds: { x: 1500, y: 900, width: 1000, height: 700 }, maximized: false };
    expect(placeWindow(saved, [main]).bounds).toEqual({ x: 920, y: 380, width: 1000, height: 700 });
  });

  it('is made no larger than its screen and no smaller than can be worked in', () => {
    const large = { bounds: { x: 0, y: 0, width: 5000, height: 4000 }, maximized: false };
    expect(placeWindow(large, [main]).bounds).toEqual(main);
    const tiny = { bounds: { x: 10, y: 30, width: 5, height: 5 }, maximized: false };
    expect(placeWindow(tiny, [main]).bounds).toEqual({ x: 10, y: 30, width: 900, height: 600 });
    expect(placeWindow(tiny, [small]).bounds).toEqual(small);
  });

  it('comes to the main screen when its own has gone', () => {
    const saved = { bounds: { x: -1200, y: 100, width: 1000, height: 700 }, maximized: false };
    expect(placeWindow(saved, [main]).bounds).toEqual({ x: 280, y: 122, width: 1360, height: 860 });
    expect(placeWindow(saved, []).bounds).toEqual({ x: 0, y: 0, width: 1360, height: 860 });
  });
});

describe('the menu', () => {
  const noop = { showFolder: () => undefined, about: () => undefined };
  const labels = (platform: string, forBuilders: boolean): string =>
    JSON.stringify(menuTemplate(platform, noop, forBuilders).map((entry) => [entry.label, entry.submenu]));

  it('offers tools for looking inside the page only from the source tree', () => {
    expect(labels('linux', true)).toContain('toggleDevTools');
    expect(labels('linux', false)).not.toMatch(/toggleDevTools|"reload"/);
  });

  it.each(['linux', 'win32', 'darwin'])(
    'can quit, copy and change the size of the text on %s',
    (platform) => {
      for (const role of ['quit', 'copy', 'paste', 'zoomIn', 'togglefullscreen']) {
        expect(labels(platform, false)).toContain(`"role":"${role}"`);
      }
    },
  );

  it('does what its own lines say', () => {
    const done: string[] = [];
    const actions = { showFolder: () => done.push('folder'), about: () => done.push('about') };
    const [first] = menuTemplate('linux', actions, false);
    const lines = Array.isArray(first?.submenu) ? first.submenu : [];
    for (const line of lines) (line.click as (() => void) | undefined)?.();
    expect(done).toEqual(['folder', 'about']);
  });
});

describe('names from outside', () => {
  it.each([
    ['Invoice 2024-0012.pdf', 'Invoice 2024-0012.pdf'],
    ['../../etc/passwd', 'passwd'],
    ['C:\\Windows\\win.ini', 'win.ini'],
    ['a/b/', 'file'],
    ['', 'file'],
    ['..', 'file'],
    ['.hidden', 'hidden'],
    ['name. ', 'name'],
    ['a<b>:c|d?.pdf', 'abcd.pdf'],
    ['line\nbreak\u0000.pdf', 'linebreak.pdf'],
    ['gpj.\u202eexe.pdf', 'gpj.exe.pdf'],
    ['CON', 'file-CON'],
    ['nul.txt', 'file-nul.txt'],
    [`${'x'.repeat(300)}.pdf`, `${'x'.repeat(116)}.pdf`],
  ])('makes %j the plain file name %j', (proposed, name) => {
    expect(safeFileName(proposed)).toBe(name);
  });

  it.each([
    [['electron', '.'], []],
    [
      ['electron', '.', '--demo', '--data', '/x'],
      ['--demo', '--data', '/x'],
    ],
    [['knifewright', '--data=/x', '--inspect', '--no-open'], ['--data=/x']],
    [['electron', '.', '--data'], ['--data']],
  ])('takes from %j the words %j', (argv, words) => {
    expect(desktopArguments(argv)).toEqual(words);
  });
});
