/** The worker that draws papers. The drawing library loads with the first order, not with the program. */
import { parentPort } from 'node:worker_threads';
import type { PaperOrder, PaperResult } from './renderer-port.ts';

async function draw(order: PaperOrder): Promise<Uint8Array> {
  if (order.paper === 'invoice') {
    const { renderInvoice } = await import('./invoice.ts');
    return renderInvoice(order.data);
  }
  const { renderCostSheet } = await import('./cost-sheet.ts');
  return renderCostSheet(order.data);
}

async function answer(order: PaperOrder): Promise<PaperResult> {
  try {
    return { id: order.id, ok: true, pdf: await draw(order) };
  } catch (error) {
    return {
      id: order.id,
      ok: false,
      problem: error instanceof Error ? (error.stack ?? error.message) : String(error),
    };
  }
}

parentPort?.on('message', (order: PaperOrder) => {
  void answer(order).then((result) => parentPort?.postMessage(result));
});
