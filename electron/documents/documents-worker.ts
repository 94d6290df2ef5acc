/** The worker that draws papers. The drawing library loads with the first order, not with the program. */
import { parentPort } from 'node:worker_threads';
import type { PaperOrder, PaperResult } from './renderer-port.ts';
import type { PaperKind, Papers } from './types.ts';

/** How each paper is drawn; its part of the program loads with its first order. */
const drawers: { readonly [K in PaperKind]: (data: Papers[K]) => Promise<Uint8Array> } = {
  invoice: async (data) => (await import('./invoice.ts')).renderInvoice(data),
  letter: async (data) => (await import('./letter.ts')).renderLetter(data),
  structured: async (data) => (await import('./structured.ts')).renderStructured(data),
  costSheet: async (data) => (await import('./cost-sheet.ts')).renderCostSheet(data),
  cutting: async (data) => (await import('./cutting-plan.ts')).renderCuttingPlan(data),
  making: async (data) => (await import('./making.ts')).renderMaking(data),
  heat: async (data) => (await import('./heat.ts')).renderHeat(data),
  labels: async (data) => (await import('./labels.ts')).renderLabels(data),
  packingSlip: async (data) => (await import('./parcel.ts')).renderPackingSlip(data),
  contentList: async (data) => (await import('./parcel.ts')).renderContentList(data),
  preview: async (data) => (await import('./preview.ts')).renderPreview(data),
  stocktake: async (data) => (await import('./stocktake.ts')).renderStocktake(data),
  report: async (data) => (await import('./report.ts')).renderReport(data),
  certificate: async (data) => (await import('./certificate.ts')).renderCertificate(data),
};

const draw = <K extends PaperKind>(order: PaperOrder<K>): Promise<Uint8Array> =>
  drawers[order.paper](order.data);

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
