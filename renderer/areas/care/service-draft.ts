/** What is being written about a service. */
import type { Input } from '../../../electron/api/contract.ts';
import type { Service, ServiceKind } from '../../../electron/api/care.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export interface ServiceDraft {
  whose: 'own' | 'other';
  knifeId: string;
  knife: string;
  person: string;
  kind: ServiceKind;
  receivedOn: string;
  doneOn: string;
  sentOn: string;
  note: string;
  price: number | undefined;
  postage: number | undefined;
}

/** A new service, for a knife or a person where one is known. */
export const newService = (today: string, knifeId: string, person: string): ServiceDraft => ({
  whose: 'own',
  knifeId,
  knife: '',
  person,
  kind: 'sharpening',
  receivedOn: today,
  doneOn: '',
  sentOn: '',
  note: '',
  price: undefined,
  postage: 0,
});

/** A service as it stands. */
export const draftOf = (service: Service): ServiceDraft => ({
  whose: service.buildId === null ? 'other' : 'own',
  knifeId: service.buildId ?? '',
  knife: service.buildId === null ? service.knife : '',
  person: service.buyerId ?? '',
  kind: service.kind,
  receivedOn: service.receivedOn,
  doneOn: service.doneOn ?? '',
  sentOn: service.sentOn ?? '',
  note: service.note,
  price: service.priceMinor,
  postage: service.postagePaidMinor,
});

const orNull = (text: string): string | null => (text === '' ? null : text);

/** The knife chosen, where it is one of the workshop's own. */
export const ownKnife = ({ whose, knifeId }: ServiceDraft): string | null =>
  whose === 'own' ? orNull(knifeId) : null;

/** The service as the books take it. */
export const serviceInput = (draft: ServiceDraft): Input<'care.saveService'> => ({
  buildId: ownKnife(draft),
  knife: draft.whose === 'own' ? '' : draft.knife,
  buyerId: orNull(draft.person),
  kind: draft.kind,
  receivedOn: draft.receivedOn,
  doneOn: orNull(draft.doneOn),
  sentOn: orNull(draft.sentOn),
  note: draft.note,
  priceMinor: draft.price ?? missingNumber,
  postagePaidMinor: draft.postage ?? missingNumber,
});
