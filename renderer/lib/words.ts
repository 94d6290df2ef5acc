/** The books' codes in the trade's words. */
import type { BuildState } from '../../electron/api/builds.ts';
import type { WorkKind } from '../../electron/api/hours.ts';
import type {
  consumableKinds as consumableList,
  ItemForm,
  ItemKind,
  MovementKind,
  Use,
} from '../../electron/api/stock.ts';

export const kindWords: Readonly<Record<ItemKind, string>> = {
  steel: 'Steel',
  handle: 'Handle material',
  fitting: 'Fittings',
  adhesive: 'Glue',
  sheath: 'Sheath material',
  blank: 'Cut blanks',
  belt: 'Belts',
  paper: 'Abrasive paper',
  stone: 'Stones',
  disc: 'Discs',
  oil: 'Oil',
  fuel: 'Fuel',
  chemical: 'Chemicals',
  sundry: 'Sundries',
  packaging: 'Packaging',
};

export const formWords: Readonly<Record<ItemForm, string>> = {
  length: 'By length: bars, rods, strips',
  area: 'By area: sheets, hides',
  weight: 'By weight',
  volume: 'By volume',
  piece: 'By the piece',
  pair: 'By the pair',
  worth: 'By its worth: a mixed lot',
};

export const useWords: Readonly<Record<Use, string>> = {
  material: 'Material',
  consumable: 'Consumables',
  energy: 'Energy',
  packaging: 'Packaging',
};

export const movementWords: Readonly<Record<MovementKind, string>> = {
  receipt: 'Bought',
  draw: 'Taken for a knife',
  scrap: 'Scrapped',
  count: 'Counted',
  personal: 'Own use',
  sample: 'Given as a sample',
  return: 'Sent back',
  shortEnd: 'Short end',
  reversal: 'Taken back',
  made: 'Made here',
  intoMaking: 'Taken for a making',
  split: 'Cut apart',
  evenOut: 'Average drawn level',
  opened: 'Opened',
  intoBath: 'Poured into a bath',
};

export const stateWords: Readonly<Record<BuildState, string>> = {
  planned: 'Planned',
  inWork: 'In work',
  finished: 'Finished',
  sold: 'Sold',
  scrapped: 'Scrapped',
  kept: 'Kept',
};

export const workWords: Readonly<Record<WorkKind, string>> = {
  content: 'Photos and writing',
  messages: 'Office and messages',
  cleaning: 'Cleaning',
  machines: 'Machine care',
  service: 'Service',
  buying: 'Buying',
  other: 'Other work',
};

/** Kinds that are used up over many knives. Written out, because the contract itself stays out of the pages. */
export const consumableKinds: typeof consumableList = [
  'belt',
  'paper',
  'stone',
  'disc',
  'oil',
  'fuel',
  'chemical',
  'sundry',
];

/** What a draw of this kind of item usually counts as on a cost sheet. */
export const usualUse = (kind: ItemKind): Use => {
  if (kind === 'packaging') return 'packaging';
  if (kind === 'fuel') return 'energy';
  return consumableKinds.some((one) => one === kind) ? 'consumable' : 'material';
};

/** Options of a choice list from a table of words. */
export const optionsOf = <K extends string>(
  words: Readonly<Record<K, string>>,
): readonly { readonly value: K; readonly label: string }[] =>
  Object.entries<string>(words).map(([value, label]) => ({ value: value as K, label }));

/** A knife in words: its model, and what sets it apart where that says more. */
export const knifeName = (knife: { readonly modelName: string; readonly title: string }): string =>
  knife.title === '' || knife.title === knife.modelName
    ? knife.modelName
    : `${knife.modelName}, ${knife.title}`;
