/** A release as it is typed. */
import type { Candidate, ReleaseDetail, ReleaseRule } from '../../../electron/api/releases.ts';
import type { Input } from '../../../electron/api/contract.ts';
import { addDays } from '../../../electron/domain/calendar.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import { shop } from '../../lib/shop.svelte.ts';
import { instantOf, type Typed, typedOf } from './words.ts';

export interface KnifeDraft {
  buildId: string;
  serial: string;
  title: string;
  flaw: string;
  priceMinor: number | undefined;
  shippingMinor: number | undefined;
  words: string;
  /** Shown and withdrawn; it stays in the list. */
  withdrawn: boolean;
}

export interface ReleaseDraft {
  title: string;
  note: string;
  rule: ReleaseRule;
  leastRank: string;
  oneEach: boolean;
  holdMinutes: number | undefined;
  previewOn: string;
  opens: Typed;
  closes: Typed;
  knives: KnifeDraft[];
  reason: string;
}

const EVENING = 18 * 60;
const DAY = 24 * 60;

/** A new release: preview in three days, open to supporters for two days from three days later at six in the evening. */
export const emptyDraft = (): ReleaseDraft => ({
  title: '',
  note: '',
  rule: 'first',
  leastRank: '1',
  oneEach: true,
  holdMinutes: DAY,
  previewOn: addDays(shop.today, 3),
  opens: { day: addDays(shop.today, 6), minutes: EVENING },
  closes: { day: addDays(shop.today, 8), minutes: EVENING },
  knives: [],
  reason: '',
});

export const draftOf = (release: ReleaseDetail): ReleaseDraft => ({
  title: release.title,
  note: release.note,
  rule: release.rule,
  leastRank: String(release.leastRank),
  oneEach: release.oneEach,
  holdMinutes: release.holdMinutes,
  previewOn: release.previewOn ?? '',
  opens: typedOf(release.earlyFrom),
  closes: typedOf(release.earlyUntil),
  knives: release.knives.map((knife) => ({
    buildId: knife.buildId,
    serial: knife.serial,
    title: knife.title,
    flaw: knife.flaw,
    priceMinor: knife.priceMinor,
    shippingMinor: knife.shippingMinor,
    words: knife.words,
    withdrawn: knife.state === 'withdrawn',
  })),
  reason: '',
});

export const knifeOf = (candidate: Candidate): KnifeDraft => ({
  buildId: candidate.buildId,
  serial: candidate.serial,
  title: candidate.title,
  flaw: candidate.flaw,
  priceMinor: candidate.listPriceMinor ?? undefined,
  shippingMinor: candidate.shippingMinor ?? undefined,
  words: '',
  withdrawn: false,
});

/** What goes over the contract. */
export const inputOf = (draft: ReleaseDraft, id: string | undefined): Input<'releases.save'> => ({
  ...(id === undefined ? {} : { id }),
  title: draft.title,
  note: draft.note,
  rule: draft.rule,
  leastRank: Number(draft.leastRank),
  oneEach: draft.oneEach,
  holdMinutes: draft.holdMinutes ?? missingNumber,
  previewOn: draft.previewOn === '' ? null : draft.previewOn,
  earlyFrom: instantOf(draft.opens),
  earlyUntil: instantOf(draft.closes),
  knives: draft.knives.map((knife) => ({
    buildId: knife.buildId,
    // Quoted models have no list price: the draft keeps nothing, and setting the release asks for it.
    priceMinor: knife.priceMinor ?? 0,
    shippingMinor: knife.shippingMinor ?? 0,
    words: knife.words,
  })),
  reason: draft.reason,
});
