/** Where a workshop's books live when nobody says otherwise. */
import { posix, win32 } from 'node:path';

export interface WorkshopFolders {
  /** The person's own workshop. */
  readonly own: string;
  /** The invented demo workshop, never the same folder. */
  readonly demo: string;
}

export interface Surroundings {
  readonly platform: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

const baseFolder = ({ platform, env, home }: Surroundings): string => {
  if (platform === 'win32')
    return win32.join(env['APPDATA'] ?? win32.join(home, 'AppData', 'Roaming'), 'Knifewright');
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'Knifewright');
  const given = env['XDG_DATA_HOME'];
  // The XDG base directory rules say that a relative path is to be ignored.
  const base = given !== undefined && posix.isAbsolute(given) ? given : posix.join(home, '.local', 'share');
  return posix.join(base, 'knifewright');
};

/**
 * The folders of the own and the demo workshop.
 * @param chosen absolute folder named with `--data`; the demo then lies beside it with `-demo` at its end
 */
export const workshopFolders = (around: Surroundings, chosen?: string): WorkshopFolders => {
  if (chosen !== undefined) {
    const own = chosen.length > 1 ? chosen.replace(/[\\/]+$/, '') : chosen;
    return { own, demo: `${own}-demo` };
  }
  const path = around.platform === 'win32' ? win32 : posix;
  const base = baseFolder(around);
  return { own: path.join(base, 'workshop'), demo: path.join(base, 'demo') };
};
