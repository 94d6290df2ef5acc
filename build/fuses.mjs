/** The switches burnt into the desktop program when it is packed. */
import { flipFuses, FuseV1Options, FuseVersion } from '@electron/fuses';

/**
 * Each switch is explained in Electron's `docs/tutorial/fuses.md`. `strictlyRequireAllFuses` makes a switch that
 * is new in a later Electron break the packing instead of passing unseen.
 * @type {import('@electron/fuses').FuseConfig}
 */
export const fuses = {
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
  // On by default; named because every switch must be.
  [FuseV1Options.WasmTrapHandlers]: true,
};

/**
 * Sets the switches in a packed program, before it is signed.
 * @param {string} program path of the desktop program (on macOS: of the `.app` folder)
 * @param {boolean} resign whether the macOS program needs a fresh local signature afterwards
 */
export const setFuses = (program, resign) =>
  flipFuses(program, { ...fuses, resetAdHocDarwinSignature: resign });
