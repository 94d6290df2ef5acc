/** A model as its editor holds it. */
import type { ModelDetail, ModelPart } from '../../../electron/api/builds.ts';
import type { Item, Use } from '../../../electron/api/stock.ts';
import { kindWords, usualUse } from '../../lib/words.ts';
import { type OptionDraft, optionDraftOf, writtenOptions } from './option-draft.ts';

export interface StageDraft {
  readonly key: number;
  code: string;
  minutes: number | undefined;
}
export interface PartDraft {
  readonly key: number;
  label: string;
  itemId: string;
  use: Use;
  qty: number | undefined;
  perBar: number | undefined;
  stageCode: string;
  /** Chosen on the model's page, where the ladder says what each rung knows; the editor only carries it along. */
  readonly rung: ModelPart['rung'];
}
export interface FlatDraft {
  readonly key: number;
  label: string;
  use: Use;
  amountMicro: number | undefined;
}
export interface ModelDraft {
  code: string;
  name: string;
  family: string;
  method: string;
  note: string;
  archived: boolean;
  stages: StageDraft[];
  parts: PartDraft[];
  flats: FlatDraft[];
  options: OptionDraft[];
  care: string;
  bladeNm: number | undefined;
  steel: string;
  finish: string;
}

let nextKey = 1;
const key = (): number => nextKey++;

/** Stands for "no stage" in a list of choices. */
export const anyStage = 'any';

export const blankStage = (code = ''): StageDraft => ({ key: key(), code, minutes: undefined });
export const blankPart = (): PartDraft => ({
  key: key(),
  label: '',
  itemId: '',
  use: 'material',
  qty: undefined,
  perBar: undefined,
  stageCode: anyStage,
  rung: 2,
});

/** A newly chosen item suggests what the line is called and what it counts as. */
export const suggestUse = (part: PartDraft, item: Pick<Item, 'kind' | 'form'>): void => {
  if (part.label.trim() === '') part.label = kindWords[item.kind];
  part.use = usualUse(item.kind);
  if (item.form !== 'length' && item.form !== 'area') part.perBar = undefined;
};
export const blankFlat = (): FlatDraft => ({
  key: key(),
  label: '',
  use: 'consumable',
  amountMicro: undefined,
});
export const blankModel = (): ModelDraft => ({
  code: '',
  name: '',
  family: '',
  method: '',
  note: '',
  archived: false,
  stages: [],
  parts: [blankPart()],
  flats: [],
  options: [],
  care: '',
  bladeNm: undefined,
  steel: '',
  finish: '',
});

export const modelDraftOf = (model: ModelDetail): ModelDraft => ({
  code: model.code,
  name: model.name,
  family: model.family,
  method: model.method,
  note: model.note,
  archived: model.archived,
  stages: model.stages.map((stage) => ({ key: key(), code: stage.code, minutes: stage.minutes })),
  parts: model.parts.map((part) => ({
    key: key(),
    label: part.label,
    itemId: part.itemId,
    use: part.use,
    qty: part.qty,
    perBar: part.perBar ?? undefined,
    stageCode: part.stageCode ?? anyStage,
    rung: part.rung,
  })),
  flats: model.flats.map((flat) => ({
    key: key(),
    label: flat.label,
    use: flat.use,
    amountMicro: flat.amountMicro,
  })),
  // An option of a model has no model behind it to be taken from.
  options: model.options.map(({ name, priceMinor }) => optionDraftOf({ name, priceMinor })),
  care: model.care,
  bladeNm: model.bladeNm ?? undefined,
  steel: model.steel,
  finish: model.finish,
});

const written = (part: PartDraft): boolean =>
  part.itemId !== '' || part.label.trim() !== '' || part.qty !== undefined;

/** Without the lines nobody wrote in, so that faults point at the right one. */
export const withoutBlanks = (draft: ModelDraft): ModelDraft => ({
  ...draft,
  stages: draft.stages.filter((stage) => stage.code !== ''),
  parts: draft.parts.filter(written),
  flats: draft.flats.filter((flat) => flat.label.trim() !== '' || flat.amountMicro !== undefined),
  options: writtenOptions(draft.options),
});

/** What the contract takes. A number that is missing is sent as such and comes back as its field's fault. */
export const modelInput = (draft: ModelDraft) => ({
  code: draft.code,
  name: draft.name,
  family: draft.family,
  method: draft.method,
  note: draft.note,
  archived: draft.archived,
  stages: draft.stages.map((stage) => ({ code: stage.code, minutes: stage.minutes ?? 0 })),
  parts: draft.parts.map((part) => ({
    label: part.label,
    itemId: part.itemId,
    use: part.use,
    qty: part.qty ?? Number.NaN,
    perBar: part.perBar ?? null,
    stageCode: part.stageCode === anyStage ? null : part.stageCode,
    rung: part.rung,
  })),
  flats: draft.flats.map((flat) => ({
    label: flat.label,
    use: flat.use,
    amountMicro: flat.amountMicro ?? Number.NaN,
  })),
  options: draft.options.map((option) => ({
    name: option.name,
    priceMinor: option.priceMinor ?? Number.NaN,
  })),
  care: draft.care,
  bladeNm: draft.bladeNm ?? null,
  steel: draft.steel,
  finish: draft.finish,
});
