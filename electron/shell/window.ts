/** Makes the one window, where it stood last time. */
import { readFileSync, writeFileSync } from 'node:fs';
import { BrowserWindow, screen } from 'electron';
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
  window.webContents.on('render-process-gone', (_event, details) => {
    process.stderr.write(`The page had to be loaded again (${details.reason}).\n`);
    if (!window.isDestroyed()) window.webContents.reload();
  });
  void window.loadURL(`${bundleOrigin}/`);
  return window;
};
