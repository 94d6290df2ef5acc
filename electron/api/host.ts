/** Endpoints the host itself answers: which workshop is open, and files leaving the program. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';

export interface HostInfo {
  readonly kind: 'desktop' | 'loopback';
  readonly version: string;
  /** Folder of the open workshop, as the person would recognise it. */
  readonly folder: string;
  readonly demo: boolean;
}

export interface HandedOut {
  readonly saved: boolean;
  readonly path?: string;
  /** On loopback: where the browser finds it, for one request within a minute. */
  readonly address?: string;
}

/** Calls the host answers by itself, without the core. */
export const hostEndpoints = {
  'host.info': query(z.strictObject({}))<HostInfo>(),
  /** Opens (making it first, when needed) the invented demo workshop in a folder of its own. */
  'host.openDemo': command(z.strictObject({}))<HostInfo>(),
  /** Goes back to the person's own workshop. */
  'host.openOwn': command(z.strictObject({}))<HostInfo>(),
  /** Puts a checked safety copy in the place of the open workshop's books; the present ones are kept as a copy themselves. */
  'host.goBackTo': command(
    z.strictObject({ name: z.string().min(1, 'Choose a copy.').max(200) }),
  )<HostInfo>(),
  /** Desktop only: asks where to save and writes there. On loopback the browser downloads instead. */
  'host.saveFile': command(
    z.strictObject({
      name: z.string().min(1).max(200),
      base64: z.base64().max(120_000_000),
    }),
  )<{ readonly saved: boolean; readonly path?: string }>(),
  /** Hands an archive of the workshop folder out: the window asks where to; on loopback the browser fetches `address`, once. */
  'host.handOutArchive': command(z.strictObject({ name: z.string().min(1).max(140) }))<HandedOut>(),
  /** Desktop only: asks for a file and takes it in among the archives. On loopback the page sends it. */
  'host.takeInArchive': command(z.strictObject({}))<{ readonly name: string | null }>(),
} as const;
