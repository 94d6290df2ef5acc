/** Use-cases of what follows a sale: parcels, certificates, service, returns. */
import type { careEndpoints } from '../../api/care.ts';
import type { Handlers } from '../handlers.ts';
import type { PlannedPaper } from '../selling/issue.ts';
import { certificatePdf } from './certificate.ts';
import { contentListPdf, packingSlipPdf } from './parcel-papers.ts';
import { cancelParcel, changeParcel, pack, parcelDraft, parcels } from './parcels.ts';
import { prepareTakeBack, returnFigures, takeBack } from './returns.ts';
import { invoiceService, prepareServiceInvoice, serviceFigures } from './service-invoice.ts';
import { cancelService, needService, saveService, services, serviceTerms, toService } from './services.ts';
import { careSettings, saveCareSettings } from './settings.ts';

/** Which use-case answers which call. */
export const careHandlers: Pick<Handlers, keyof typeof careEndpoints> = {
  'care.services': services,
  'care.service': (ctx, { id }) => toService(needService(ctx.db, id)),
  'care.serviceTerms': serviceTerms,
  'care.settings': careSettings,
  'care.saveSettings': saveCareSettings,
  'care.saveService': { run: (ctx, input) => saveService(ctx, input) },
  'care.cancelService': { run: (ctx, input) => cancelService(ctx, input) },
  'care.serviceFigures': serviceFigures,
  'care.invoiceService': {
    prepare: (ctx, input) => prepareServiceInvoice(ctx, input),
    run: (ctx, input, prepared: PlannedPaper) => invoiceService(ctx, input, prepared),
  },
  'care.returnFigures': returnFigures,
  'care.takeBack': {
    prepare: (ctx, input) => prepareTakeBack(ctx, input),
    run: (ctx, input, prepared: PlannedPaper | undefined) => takeBack(ctx, input, prepared),
  },
  'care.parcels': parcels,
  'care.parcelDraft': parcelDraft,
  'care.pack': { run: (ctx, input) => pack(ctx, input) },
  'care.changeParcel': { run: (ctx, input) => changeParcel(ctx, input) },
  'care.cancelParcel': { run: (ctx, input) => cancelParcel(ctx, input) },
  'care.packingSlipPdf': packingSlipPdf,
  'care.contentListPdf': contentListPdf,
  'care.certificatePdf': certificatePdf,
};
