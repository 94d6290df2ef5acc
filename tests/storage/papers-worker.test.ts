import { describe, expect, it } from 'vitest';
import { renderCostSheet } from '../../electron/documents/cost-sheet.ts';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { startDocuments } from '../../electron/documents/renderer-port.ts';
import { costSheetPaper, invoicePaper } from '../documents/papers.ts';
import { CHILD_TIMEOUT_MS } from './support.ts';

describe('papers drawn in a thread of their own', { timeout: CHILD_TIMEOUT_MS }, () => {
  it('are the same, byte for byte, as drawn here, and several at once come out right', async () => {
    const documents = startDocuments();
    const drawn = await Promise.all([
      documents.invoice(invoicePaper),
      documents.costSheet(costSheetPaper),
      documents.invoice(invoicePaper),
    ]);
    const here = [
      await renderInvoice(invoicePaper),
      await renderCostSheet(costSheetPaper),
      await renderInvoice(invoicePaper),
    ];
    expect(drawn.map((pdf) => Buffer.from(pdf).toString('latin1'))).toEqual(
      here.map((pdf) => Buffer.from(pdf).toString('latin1')),
    );
    await documents.close();
  });

  it('fail one by one, without taking the next one along', async () => {
    const documents = startDocuments();
    await expect(documents.invoice({ ...invoicePaper, lines: null as never })).rejects.toThrow('null');
    expect((await documents.invoice(invoicePaper)).length).toBeGreaterThan(1000);
    await documents.close();
  });

  it('are drawn again after the thread was ended', async () => {
    const documents = startDocuments();
    await documents.costSheet(costSheetPaper);
    const pending = documents.costSheet(costSheetPaper);
    await Promise.all([expect(pending).rejects.toThrow('has stopped'), documents.close()]);
    expect((await documents.costSheet(costSheetPaper)).length).toBeGreaterThan(1000);
    await documents.close();
  });
});
