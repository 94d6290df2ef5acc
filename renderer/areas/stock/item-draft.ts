/** An item while it is being written. */
import type { Costing, GritScale, Item, ItemForm, ItemKind } from '../../../electron/api/stock.ts';
import { usuallyFallsBy } from '../../../electron/domain/ladder.ts';
import { unitsOf } from '../../../electron/domain/units.ts';
import type { Form, UnitCode } from '../../../electron/domain/units.ts';

export interface ItemDraft {
  name: string;
  kind: ItemKind;
  form: ItemForm;
  unit: string;
  pieceWord: string;
  costing: Costing;
  usefulRemnant: number | undefined;
  kerfNm: number | undefined;
  thicknessNm: number | undefined;
  widthNm: number | undefined;
  densityMilli: number | undefined;
  supplierId: string;
  lowLevel: number | undefined;
  note: string;
  archived: boolean;
  consumedBy: 'use' | 'opening';
  gritScale: GritScale | '';
  grit: string;
  backing: string;
  incidental: boolean;
}

interface Habit {
  readonly form: ItemForm;
  readonly word: string;
}

/** How things of a kind are usually bought; common practice, no source. */
const usual: Readonly<Record<ItemKind, Habit>> = {
  steel: { form: 'length', word: 'bar' },
  handle: { form: 'pair', word: 'pair' },
  fitting: { form: 'piece', word: 'piece' },
  adhesive: { form: 'volume', word: 'kit' },
  sheath: { form: 'area', word: 'sheet' },
  blank: { form: 'piece', word: 'blank' },
  belt: { form: 'piece', word: 'belt' },
  paper: { form: 'piece', word: 'sheet' },
  stone: { form: 'piece', word: 'stone' },
  disc: { form: 'piece', word: 'disc' },
  oil: { form: 'volume', word: 'can' },
  fuel: { form: 'weight', word: 'bottle' },
  chemical: { form: 'volume', word: 'bottle' },
  sundry: { form: 'piece', word: 'piece' },
  packaging: { form: 'piece', word: 'box' },
};

/** The unit a form is usually written in, by the workshop's habit. */
export const usualUnit = (form: Form, isInch: boolean, isOunce: boolean): UnitCode => {
  if (form === 'length') return isInch ? 'in' : 'mm';
  if (form === 'area') return isInch ? 'sqft' : 'cm2';
  if (form === 'weight') return isOunce ? 'oz' : 'g';
  if (form === 'volume') return isOunce ? 'floz' : 'ml';
  return form;
};

/** What is usual for a kind; the rest stays as written. */
export const withKind = (draft: ItemDraft, isInch: boolean, isOunce: boolean): ItemDraft => {
  const { form, word } = usual[draft.kind];
  const consumedBy = usuallyFallsBy(draft.kind);
  const unit = draft.kind === 'fuel' ? (isOunce ? 'lb' : 'kg') : usualUnit(form, isInch, isOunce);
  return { ...draft, form, unit, pieceWord: word, consumedBy };
};

export const blankItem = (kind: ItemKind, name: string, isInch: boolean, isOunce: boolean): ItemDraft =>
  withKind(
    {
      name,
      kind,
      form: 'length',
      unit: 'in',
      pieceWord: '',
      costing: 'fifo',
      usefulRemnant: 0,
      kerfNm: 0,
      thicknessNm: undefined,
      widthNm: undefined,
      densityMilli: undefined,
      supplierId: '',
      lowLevel: 0,
      note: '',
      archived: false,
      consumedBy: 'use',
      gritScale: '',
      grit: '',
      backing: '',
      incidental: false,
    },
    isInch,
    isOunce,
  );

export const draftOf = (item: Item): ItemDraft => {
  const { id: _id, ...rest } = item;
  return {
    ...rest,
    thicknessNm: item.thicknessNm ?? undefined,
    widthNm: item.widthNm ?? undefined,
    densityMilli: item.densityMilli ?? undefined,
    supplierId: item.supplierId ?? '',
    gritScale: item.gritScale ?? '',
  };
};

/** What the contract takes. */
export const itemInput = (draft: ItemDraft) => ({
  name: draft.name,
  kind: draft.kind,
  form: draft.form,
  unit: draft.unit,
  pieceWord: draft.pieceWord,
  costing: draft.costing,
  usefulRemnant: draft.usefulRemnant ?? 0,
  kerfNm: draft.kerfNm ?? 0,
  thicknessNm: draft.thicknessNm ?? null,
  widthNm: draft.widthNm ?? null,
  densityMilli: draft.densityMilli ?? null,
  supplierId: draft.supplierId === '' ? null : draft.supplierId,
  lowLevel: draft.lowLevel ?? 0,
  note: draft.note,
  archived: draft.archived,
  consumedBy: draft.consumedBy,
  gritScale: draft.gritScale === '' ? null : draft.gritScale,
  grit: draft.grit,
  backing: draft.backing,
  incidental: draft.incidental,
});

export const unitOptions = (form: Form): readonly { readonly value: string; readonly label: string }[] =>
  unitsOf(form).map((unit) => ({
    value: unit.code,
    label: unit.symbol === unit.name ? unit.name : `${unit.symbol} (${unit.name})`,
  }));
