/**
 * Opens the system browser without putting the one-time code where other people of this machine could read it:
 * the command line names only a private file, and that file leads on to the address.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** The command that opens a file in the browser on each system. */
export const openCommand = (platform: string, file: string): readonly [string, readonly string[]] => {
  if (platform === 'win32')
    return ['rundll32.exe', ['url.dll,FileProtocolHandler', pathToFileURL(file).href]];
  if (platform === 'darwin') return ['open', [file]];
  return ['xdg-open', [file]];
};

/** The page that leads on; the address is made of characters that need no escape. */
export const redirectPage = (address: string): string => {
  if (!/^http:\/\/[a-z0-9.-]+:\d+\/#[A-Za-z0-9=_-]+$/.test(address))
    throw new Error('not an address of ours');
  return `<!doctype html><meta charset="utf-8"><meta name="referrer" content="no-referrer"><meta http-equiv="refresh" content="0;url=${address}"><title>Opening Knifewright</title>\n`;
};

export interface OpenedBrowser {
  /** True when a browser could be asked for; whether it came up shows only later. */
  readonly asked: boolean;
  /** Deletes the file that led to the address. */
  readonly forget: () => void;
}

const ask = (platform: string, file: string): Promise<boolean> =>
  new Promise((resolve) => {
    const [command, args] = openCommand(platform, file);
    const child = spawn(command, args, { stdio: 'ignore', detached: true });
    child.once('error', () => resolve(false));
    child.once('exit', (code) => resolve(code === 0));
    // Some openers stay until the browser is closed; that is as good as a yes.
    setTimeout(() => resolve(true), 3000).unref();
    child.unref();
  });

/** Opens `address` in the system browser through a file of mode 0600 in a folder of mode 0700. */
export const openInBrowser = async (address: string, platform: string): Promise<OpenedBrowser> => {
  const folder = mkdtempSync(join(tmpdir(), 'knifewright-'));
  const forget = (): void => rmSync(folder, { recursive: true, force: true });
  const file = join(folder, 'open.html');
  writeFileSync(file, redirectPage(address), { mode: 0o600 });
  const asked = await ask(platform, file);
  if (!asked) forget();
  return { asked, forget };
};
