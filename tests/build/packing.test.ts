import { FuseV1Options, FuseVersion } from '@electron/fuses';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import config from '../../build/electron-builder.config.mjs';
import { fuses } from '../../build/fuses.mjs';

describe('the packed desktop program', () => {
  // Source: electron/electron docs/tutorial/fuses.md.
  it('has every switch of the desktop program set as wanted', () => {
    expect(fuses).toEqual({
      version: FuseVersion.V1,
      strictlyRequireAllFuses: true,
      [FuseV1Options.RunAsNode]: false,
      [FuseV1Options.EnableCookieEncryption]: true,
      [FuseV1Options.EnableNodeOptionsEnvironmentVariable]: false,
      [FuseV1Options.EnableNodeCliInspectArguments]: false,
      [FuseV1Options.EnableEmbeddedAsarIntegrityValidation]: true,
      [FuseV1Options.OnlyLoadAppFromAsar]: true,
      [FuseV1Options.LoadBrowserProcessSpecificV8Snapshot]: false,
      [FuseV1Options.GrantFileProtocolExtraPrivileges]: false,
      [FuseV1Options.WasmTrapHandlers]: true,
    });
  });

  it('names every switch that the packing library knows', () => {
    const known = Object.values(FuseV1Options).filter((value) => typeof value === 'number');
    const named = Object.keys(fuses).filter((key) => /^\d+$/.test(key));
    expect(named.map(Number).sort()).toEqual([...known].sort());
  });

  it('is packed from a list of what goes in, with native code unpacked and nothing rebuilt', () => {
    expect({ asar: config.asar, unpack: config.asarUnpack, rebuild: config.npmRebuild }).toEqual({
      asar: true,
      unpack: ['**/*.node'],
      rebuild: false,
    });
    expect(config.files).toEqual(
      expect.arrayContaining(['.out/desktop/**', '.out/renderer/**', '!**/*.map']),
    );
  });
});

describe('the lock file', () => {
  const lock = readFileSync('package-lock.json', 'utf8');
  const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as Record<string, Record<string, string>>;

  it('holds no download address', () => {
    expect(lock.match(/"resolved"/g)).toBeNull();
  });

  it('belongs to a manifest that pins every version exactly', () => {
    const versions = Object.entries({ ...manifest['dependencies'], ...manifest['devDependencies'] });
    // A package may stand under a second name (`npm:name@1.2.3`).
    const exact = /^(?:npm:[a-z@/-]+@)?\d+\.\d+\.\d+$/;
    expect(versions.filter(([, version]) => !exact.test(version))).toEqual([]);
  });

  it('asks for no install script in anything that is shipped, besides the database module’s prebuilt binary', () => {
    const entries = JSON.parse(lock) as {
      packages: Record<string, { dev?: boolean; hasInstallScript?: boolean }>;
    };
    const scripts = Object.entries(entries.packages)
      .filter(([, entry]) => entry.hasInstallScript === true && entry.dev !== true)
      .map(([name]) => name);
    expect(scripts).toEqual([]);
  });
});
