/** A bare page for the tests: the real session and transport of the renderer, without its screens. */
import { createClient } from '../../../renderer/lib/client.ts';
import { openSession } from '../../../renderer/lib/session.ts';
import type { Transport } from '../../../renderer/lib/transport.ts';

declare global {
  interface Window {
    tried?: { readonly transport: Transport; readonly message: string };
  }
}

const show = (text: string): void => {
  document.body.textContent = text;
  document.body.dataset['ready'] = 'yes';
};

const result = await openSession();
if (result.ok) {
  window.tried = { transport: result.transport, message: '' };
  const info = await createClient(result.transport).call('host.info', {});
  show(`open: ${info.folder}`);
} else {
  show(`closed: ${result.message}`);
}
