/**
 * The one door both hosts put in front of the core: it answers `host.*` itself, forwards the rest to the open
 * workshop, and changes from the own workshop to the demo and back.
 */
import { FaultError } from '../api/errors.ts';
import type { Fault, Reply } from '../api/errors.ts';
import { isEndpointName } from '../api/contract.ts';
import type { HostEndpointName } from '../api/contract.ts';
import { hostEndpoints } from '../api/host.ts';
import type { HostInfo } from '../api/host.ts';
import type { WorkshopPort } from '../api/port.ts';
import type { WorkshopFolders } from './folders.ts';

export type WorkshopKind = keyof WorkshopFolders;

export interface SavedFile {
  readonly saved: boolean;
  readonly path?: string;
}

export interface SwitchOptions {
  readonly kind: HostInfo['kind'];
  readonly version: string;
  readonly folders: WorkshopFolders;
  readonly start: WorkshopKind;
  openWorkshop(which: WorkshopKind): Promise<WorkshopPort>;
  /** Writes a file where the person chooses; absent on loopback, where the browser downloads. */
  saveFile?(name: string, bytes: Uint8Array): Promise<SavedFile>;
}

export interface WorkshopSwitch extends WorkshopPort {
  info(): HostInfo;
}

const fail = (fault: Fault): Reply => ({ ok: false, fault });

const faultOf = (error: unknown): Fault =>
  error instanceof FaultError
    ? error.fault
    : { kind: 'internal', message: 'Something went wrong inside the program. Nothing was changed; please try again.' };

const unknownEndpoint = fail({
  kind: 'forbidden',
  message: 'This version of the program does not know that request. Reload the page or start the program again.',
});

const badInput = fail({ kind: 'invalid', message: 'That request was not put together correctly.' });

/** Opens the first workshop and answers the door to it. Throws what `openWorkshop` throws. */
export const openSwitch = async (options: SwitchOptions): Promise<WorkshopSwitch> => {
  let which = options.start;
  let port = await options.openWorkshop(which);
  let seq = 0;
  let turn: Promise<unknown> = Promise.resolve();

  const info = (): HostInfo => ({
    kind: options.kind,
    version: options.version,
    folder: options.folders[which],
    demo: which === 'demo',
  });

  const change = async (target: WorkshopKind): Promise<HostInfo> => {
    if (target === which) return info();
    // The new one is opened first: when that fails, the old one simply stays open.
    const next = await options.openWorkshop(target);
    const old = port;
    port = next;
    which = target;
    seq = 0;
    await old.close();
    return info();
  };

  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const mine = turn.then(work, work);
    turn = mine.catch(() => undefined);
    return mine;
  };

  const saveFile = async (input: unknown): Promise<SavedFile> => {
    const { name, base64 } = hostEndpoints['host.saveFile'].input.parse(input);
    if (options.saveFile === undefined) {
      throw new FaultError({ kind: 'refused', message: 'In the browser a file is saved by downloading it.' });
    }
    return options.saveFile(name, Buffer.from(base64, 'base64'));
  };

  const answers: Readonly<Record<HostEndpointName, (input: unknown) => Promise<unknown>>> = {
    'host.info': () => Promise.resolve(info()),
    'host.openDemo': () => inTurn(() => change('demo')),
    'host.openOwn': () => inTurn(() => change('own')),
    'host.saveFile': saveFile,
  };

  const answer = async (name: HostEndpointName, input: unknown): Promise<Reply> => {
    if (!hostEndpoints[name].input.safeParse(input).success) return badInput;
    const value = await answers[name](input);
    return { ok: true, value, seq };
  };

  const isHostEndpoint = (name: string): name is HostEndpointName => Object.hasOwn(hostEndpoints, name);

  return {
    info,
    async call(endpoint, input) {
      if (!isEndpointName(endpoint)) return unknownEndpoint;
      try {
        if (isHostEndpoint(endpoint)) return await answer(endpoint, input);
        const asked = port;
        const reply = await asked.call(endpoint, input);
        // An answer from the workshop that was open before says nothing about this one.
        if (reply.ok && asked === port) seq = Math.max(seq, reply.seq);
        return reply;
      } catch (error) {
        return fail(faultOf(error));
      }
    },
    close: () => inTurn(() => port.close()),
  };
};
