/** What each way still asks of a knife: hours, spending, price. */
import type { WayKind, WayPart } from '../../api/ways.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRows } from '../../storage/queries/models.ts';
import { type HoursAhead, stageOver, stagesLeft, stagesOfModel, together } from './hours.ts';
import { asSecond, netListPrice, plannedPrice, type Price } from './prices.ts';
import { materialAhead, sellingAhead } from './spend.ts';

/** One way before its chance is known. */
export interface Ahead {
  readonly hours: HoursAhead;
  readonly spend: readonly WayPart[];
  /** Spent only if it is sold. */
  readonly selling: readonly WayPart[];
  readonly price: Price | undefined;
  readonly missing: string;
}

/** The knife in doubt. */
export interface Knife {
  readonly id: string;
  readonly modelId: string;
  readonly today: string;
  readonly decimals: number;
}

const nothing: Ahead = {
  hours: together([]),
  spend: [],
  selling: [],
  price: { minor: 0, how: 'nothing is sold' },
  missing: '',
};

function spendOf(db: ReadDb, knife: Knife, modelId: string): Pick<Ahead, 'spend' | 'selling'> {
  const asked = { modelId, buildId: knife.id, decimals: knife.decimals };
  return { spend: materialAhead(db, asked), selling: sellingAhead(db, asked) };
}

/** What the knife still needs as its own model; `over` adds the last stage once more. */
function asItself(db: ReadDb, knife: Knife, over: boolean): Ahead {
  const stages = stagesOfModel(db, knife.modelId, knife.id);
  const again = over ? stageOver(db, knife.id, stages) : [];
  return {
    hours: together([...again, ...stagesLeft(db, knife.id, stages)]),
    ...spendOf(db, knife, knife.modelId),
    price: plannedPrice(db, knife.id, knife.modelId, knife.today),
    missing: '',
  };
}

/** What it needs as a shorter model: that model's stages it has not behind it, and its shape once more. */
function asShorter(db: ReadDb, knife: Knife, modelId: string | undefined): Ahead {
  if (modelId === undefined) return { ...nothing, missing: 'Choose the model it could become.' };
  const stages = stagesOfModel(db, modelId, knife.id);
  const shape = stages.filter((stage) => stage.code === 'CUT');
  const left = stagesLeft(db, knife.id, stages).filter((stage) => stage.code !== 'CUT');
  return {
    hours: together([...shape, ...left]),
    ...spendOf(db, knife, modelId),
    price: netListPrice(db, modelId, knife.today),
    missing: '',
  };
}

/** What a way asks of the knife and would fetch. */
export function aheadOf(db: ReadDb, way: WayKind, knife: Knife, shortenTo: string | undefined): Ahead {
  if (way === 'scrap') return nothing;
  if (way === 'shorten') return asShorter(db, knife, shortenTo);
  const ahead = asItself(db, knife, way === 'rework');
  return way === 'second' ? { ...ahead, price: asSecond(db, ahead.price) } : ahead;
}

/** Models that cost less than the knife's own, the dearest first. */
export function shorterModels(db: ReadDb, modelId: string, today: string) {
  const all = modelRows(db, { on: today });
  const own = all.find((model) => model.id === modelId);
  const cheaper = all
    .filter((model) => model.id !== modelId && (model.price_minor ?? 0) > 0)
    .filter((model) => own?.price_minor == null || (model.price_minor ?? 0) < own.price_minor)
    .sort((a, b) => (b.price_minor ?? 0) - (a.price_minor ?? 0));
  return cheaper.map(({ id, code, name }) => ({ id, code, name }));
}
