/** The window's menu, as plain data. */
import type { MenuItemConstructorOptions } from 'electron';

export interface MenuActions {
  showFolder(): void;
  about(): void;
}

const line: MenuItemConstructorOptions = { type: 'separator' };

const editMenu: MenuItemConstructorOptions = {
  label: '&Edit',
  submenu: [
    { label: '&Undo', role: 'undo' },
    { label: '&Redo', role: 'redo' },
    line,
    { label: 'Cu&t', role: 'cut' },
    { label: '&Copy', role: 'copy' },
    { label: '&Paste', role: 'paste' },
    { label: 'Select &all', role: 'selectAll' },
  ],
};

const viewMenu = (forBuilders: boolean): MenuItemConstructorOptions => {
  const tools: readonly MenuItemConstructorOptions[] = forBuilders
    ? [
        line,
        { label: 'Reload the page', role: 'reload' },
        { label: 'Look inside the page', role: 'toggleDevTools' },
      ]
    : [];
  return {
    label: '&View',
    submenu: [
      { label: '&Larger', role: 'zoomIn' },
      { label: '&Smaller', role: 'zoomOut' },
      { label: '&Usual size', role: 'resetZoom' },
      line,
      { label: '&Full screen', role: 'togglefullscreen' },
      ...tools,
    ],
  };
};

/**
 * The menu for a platform.
 * @param forBuilders true when run from the source tree: adds the tools for looking inside the page
 */
export const menuTemplate = (
  platform: string,
  actions: MenuActions,
  forBuilders: boolean,
): readonly MenuItemConstructorOptions[] => {
  const about: MenuItemConstructorOptions = { label: 'A&bout Knifewright', click: () => actions.about() };
  const folder: MenuItemConstructorOptions = {
    label: 'Show the workshop &folder',
    click: () => actions.showFolder(),
  };
  const quit: MenuItemConstructorOptions = { label: '&Quit', role: 'quit' };
  const hide: MenuItemConstructorOptions = { label: 'Hide Knifewright', role: 'hide' };
  const first: MenuItemConstructorOptions =
    platform === 'darwin'
      ? { label: 'Knifewright', submenu: [about, line, folder, line, hide, line, quit] }
      : { label: '&Workshop', submenu: [folder, about, line, quit] };
  return [first, editMenu, viewMenu(forBuilders)];
};
