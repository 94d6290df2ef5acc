/** What goes into the installable desktop program, and how it is locked down. */
import path from 'node:path';
import { setFuses } from './fuses.mjs';

/** The database module brings a binary for every platform; only the target's own may be packed. */
const foreignBinaries = {
  linux: [
    '!**/better-sqlite3/prebuilds/{darwin,win32}-*.node',
    '!**/better-sqlite3/prebuilds/linuxmusl-*.node',
  ],
  mac: ['!**/better-sqlite3/prebuilds/{linux,linuxmusl,win32}-*.node'],
  win: ['!**/better-sqlite3/prebuilds/{linux,linuxmusl,darwin}-*.node'],
};

/** @type {import('electron-builder').Configuration} */
export default {
  appId: 'org.knifewright.desktop',
  productName: 'Knifewright',
  copyright: 'MIT licence',
  directories: { output: 'dist', buildResources: 'build/icons' },
  files: [
    'package.json',
    'LICENSE',
    '.out/desktop/**',
    '.out/renderer/**',
    '!**/*.map',
    // Font packages bring many weights and pictures; the papers use these.
    '!node_modules/@expo-google-fonts/**/*.{png,js,d.ts}',
    '!node_modules/better-sqlite3/{deps,src}/**',
    // Already inside the bundled programs.
    '!node_modules/{buffer-crc32,currency-codes,kysely,papaparse,pend,yauzl,yazl,zod}/**',
  ],
  asar: true,
  asarUnpack: ['**/*.node'],
  npmRebuild: false,
  icon: 'build/icons/icon.png',
  linux: {
    target: ['AppImage', 'deb'],
    category: 'Office',
    executableName: 'knifewright',
    maintainer: 'Knifewright',
    synopsis: 'Workshop manager for one maker of custom knives',
    files: foreignBinaries.linux,
  },
  win: { target: ['nsis'], files: foreignBinaries.win },
  nsis: { oneClick: false, perMachine: false, allowToChangeInstallationDirectory: true },
  mac: {
    target: ['dmg', 'zip'],
    category: 'public.app-category.business',
    hardenedRuntime: true,
    files: foreignBinaries.mac,
  },
  afterPack: async (context) => {
    const { appOutDir, electronPlatformName, packager } = context;
    const name = packager.appInfo.productFilename;
    const program = { darwin: `${name}.app`, win32: `${name}.exe` }[electronPlatformName] ?? 'knifewright';
    await setFuses(path.join(appOutDir, program), electronPlatformName === 'darwin');
  },
};
