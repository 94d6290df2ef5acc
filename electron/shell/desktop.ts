/** The desktop application: one process, one window, one workshop at a time. */
import { join } from 'node:path';
import { app, BrowserWindow, crashReporter, dialog, Menu, shell } from 'electron';
import { FaultError } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import type { WorkshopFolders } from '../hosting/folders.ts';
import { openSwitch } from '../hosting/workshop-switch.ts';
import type { WorkshopKind, WorkshopSwitch } from '../hosting/workshop-switch.ts';
import { menuTemplate } from './menu.ts';
import { createHandOut, createSaver, createTakeIn } from './save-file.ts';
import { openWindow } from './window.ts';
import { answerCalls } from './wire-calls.ts';
import { closeSession, declareScheme, guardEveryPage, serveBundle } from './wire-page.ts';

export interface DesktopOptions {
  readonly folders: WorkshopFolders;
  readonly start: WorkshopKind;
  readonly version: string;
  readonly rendererRoot: string;
  readonly preload: string;
  openWorkshop(which: WorkshopKind, goBackTo?: string): Promise<WorkshopPort>;
}

const currentWindow = () => BrowserWindow.getAllWindows().at(0);

const showMenu = (options: DesktopOptions, workshop: WorkshopSwitch): void => {
  const about = (): void => {
    const { electron, chrome, node } = process.versions;
    const detail = `Version ${options.version}\nElectron ${electron}, Chromium ${chrome}, Node.js ${node}`;
    void dialog.showMessageBox({ type: 'info', title: 'About Knifewright', message: 'Knifewright', detail });
  };
  // The folder is the program's own; no path from the page ever reaches the system.
  const showFolder = (): void => void shell.openPath(workshop.info().folder);
  const template = menuTemplate(process.platform, { about, showFolder }, !app.isPackaged);
  Menu.setApplicationMenu(Menu.buildFromTemplate([...template]));
};

const closeOnQuit = (workshop: WorkshopSwitch): void => {
  let state: 'open' | 'closing' | 'closed' = 'open';
  app.on('before-quit', (event) => {
    if (state === 'closed') return;
    event.preventDefault();
    if (state === 'closing') return;
    // The window first: it may want to stay, and the workshop must then still be open.
    const windows = BrowserWindow.getAllWindows();
    if (windows.length > 0) {
      for (const window of windows) window.close();
      return;
    }
    state = 'closing';
    // What is under way is finished and written before the process may end.
    void workshop.close().finally(() => {
      state = 'closed';
      app.quit();
    });
  });
};

const open = async (options: DesktopOptions): Promise<void> => {
  await app.whenReady();
  closeSession();
  serveBundle(options.rendererRoot);
  const saveFile = createSaver(currentWindow);
  const handOut = createHandOut(currentWindow);
  const takeIn = createTakeIn(currentWindow);
  const workshop = await openSwitch({ ...options, kind: 'desktop', saveFile, handOut, takeIn });
  answerCalls(workshop);
  showMenu(options, workshop);
  closeOnQuit(workshop);
  const files = { preload: options.preload, place: join(app.getPath('userData'), 'window.json') };
  openWindow(files);
  app.on('activate', () => {
    if (currentWindow() === undefined) openWindow(files);
  });
};

const focusWindow = (): void => {
  const window = currentWindow();
  if (window?.isMinimized() === true) window.restore();
  window?.focus();
};

const giveUp = (error: unknown): void => {
  const sentence = error instanceof FaultError ? error.fault.message : 'The program could not be started.';
  process.stderr.write(`${sentence}\n`);
  dialog.showErrorBox('Knifewright cannot open the workshop', sentence);
  app.exit(1);
};

/** Keeps what Chromium writes for itself apart from the workshops, which lie beside it on some systems. */
const keepProfileApart = (): void => {
  if (app.commandLine.hasSwitch('user-data-dir')) return;
  app.setPath('userData', join(app.getPath('appData'), 'Knifewright', 'window'));
};

/** Starts the desktop application. Call it once, straight from the entry, before Electron is ready. */
export const startDesktop = (options: DesktopOptions): void => {
  keepProfileApart();
  // Crash notes stay on this machine; nothing is ever sent.
  crashReporter.start({ uploadToServer: false });
  app.enableSandbox();
  declareScheme();
  guardEveryPage();
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  app.on('second-instance', focusWindow);
  app.on('window-all-closed', () => app.quit());
  open(options).catch(giveUp);
};
