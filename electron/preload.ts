/** The only thing the page can reach: one call, for names of the contract, over one fixed channel. */
import { contextBridge, ipcRenderer } from 'electron';
import { isEndpointName } from './api/names.ts';
import type { Reply } from './api/errors.ts';

const unknownName: Reply = {
  ok: false,
  fault: { kind: 'forbidden', message: 'This version of the program does not know that request.' },
};

const bridge = Object.freeze({
  async call(endpoint: string, input: unknown): Promise<Reply> {
    if (typeof endpoint !== 'string' || !isEndpointName(endpoint)) return unknownName;
    return (await ipcRenderer.invoke('knifewright:call', endpoint, input)) as Reply;
  },
});

contextBridge.exposeInMainWorld('knifewright', bridge);
