/** Use-cases of what follows a sale: parcels, certificates, service, returns. */
import type { careEndpoints } from '../../api/care.ts';
import type { Handlers } from '../handlers.ts';
import { certificatePdf } from './certificate.ts';
import { contentListPdf, packingSlipPdf } from './parcel-papers.ts';
import { cancelParcel, changeParcel, pack, parcelDraft, parcels } from './parcels.ts';
import { cancelService, needService, saveService, services, serviceTerms, toService } from './services.ts';

/** Which use-case answers which call. */
export const careHandlers: Pick<Handlers, keyof typeof careEndpoints> = {
  'care.services': services,
  'care.service': (ctx, { id }) => toService(needService(ctx.db, id)),
  'care.serviceTerms': serviceTerms,
  'care.saveService': { run: (ctx, input) => saveService(ctx, input) },
  'care.cancelService': { run: (ctx, input) => cancelService(ctx, input) },
  'care.parcels': parcels,
  'care.parcelDraft': parcelDraft,
  'care.pack': { run: (ctx, input) => pack(ctx, input) },
  'care.changeParcel': { run: (ctx, input) => changeParcel(ctx, input) },
  'care.cancelParcel': { run: (ctx, input) => cancelParcel(ctx, input) },
  'care.packingSlipPdf': packingSlipPdf,
  'care.contentListPdf': contentListPdf,
  'care.certificatePdf': certificatePdf,
};
