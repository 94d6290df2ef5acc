/** The one channel between page and core: sender first, then the name, then the core's own schema. */
import { ipcMain } from 'electron';
import type { IpcMainInvokeEvent } from 'electron';
import { isEndpointName } from '../api/names.ts';
import type { Reply } from '../api/errors.ts';
import type { WorkshopPort } from '../api/port.ts';
import { mayCall } from './policies.ts';
import type { SenderFrame } from './policies.ts';

/** Name of the only channel; the preload uses the same. */
const callChannel = 'knifewright:call';

const senderOf = (event: IpcMainInvokeEvent): SenderFrame | undefined => {
  const frame = event.senderFrame;
  // A frame that has gone away in the meantime is nobody.
  return frame === null ? undefined : { origin: frame.origin, url: frame.url, isTop: frame.parent === null };
};

const refused: Reply = {
  ok: false,
  fault: { kind: 'forbidden', message: 'Only the workshop’s own page may ask this.' },
};

/** Answers calls of the page from `port`. */
export const answerCalls = (port: WorkshopPort): void => {
  ipcMain.handle(callChannel, async (event, endpoint: unknown, input: unknown): Promise<Reply> => {
    if (!mayCall(senderOf(event)) || typeof endpoint !== 'string' || !isEndpointName(endpoint))
      return refused;
    return port.call(endpoint, input);
  });
};
