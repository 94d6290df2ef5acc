/** Makes the one window, where it stood last time. */
import { readFileSync, writeFileSync } from 'node:fs';
import { BrowserWindow, dialog, screen } from 'electron';
import { bundleOrigin } from '../hosting/page-policy.ts';
import { pagePreferences } from './policies.ts';
import { placeWindow, smallest } from './window-state.ts';

export interface WindowFiles {
  readonly preload: string;
  /** Where the window's place is remembered. */
  readonly place: string;
}

const readPlace = (file: string): unknown => {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    // The first start, or a file somebody has spoilt: the window simply opens in the middle.
    return undefined;
  }
};

const screens = (): readonly Electron.Rectangle[] => {
  const main = screen.getPrimaryDisplay();
  const others = screen.getAllDisplays().filter((display) => display.id !== main.id);
  return [main, ...others].map((display) => display.workArea);
};

const rememberPlace = (window: BrowserWindow, file: string): void => {
  try {
    writeFileSync(
      file,
      JSON.stringify({ bounds: window.getNormalBounds(), maximized: window.isMaximized() }),
    );
  } catch {
    // Not worth a word: the window opens in the middle next time.
  }
};

/** The page holds something half-written: a browser would ask by itself, a window has to. */
const askBeforeClosing = (window: BrowserWindow): void => {
  window.webContents.on('will-prevent-unload', (event) => {
    const throwAway = dialog.showMessageBoxSync(window, {
      type: 'question',
      message: 'Throw away what you have written?',
      detail: 'It is not in the books yet.',
      buttons: ['Stay and finish it', 'Throw it away'],
      defaultId: 0,
      cancelId: 0,
      noLink: true,
    });
    // Here this means: close all the same.
    if (throwAway === 1) event.preventDefault();
  });
};

/** Opens the window on the bundled page. */
export const openWindow = (files: WindowFiles): BrowserWindow => {
  const place = placeWindow(readPlace(files.place), screens());
  const window = new BrowserWindow({
    ...place.bounds,
    minWidth: smallest.width,
    minHeight: smallest.height,
    show: false,
    title: 'Knifewright',
    webPreferences: pagePreferences(files.preload),
  });
  if (place.maximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  window.on('close', () => rememberPlace(window, files.place));
  askBeforeClosing(window);
  window.webContents.on('render-process-gone', (_event, details) => {
    process.stderr.write(`The page had to be loaded again (${details.reason}).\n`);
    if (!window.isDestroyed()) window.webContents.reload();
  });
  void window.loadURL(`${bundleOrigin}/`);
  return window;
};
