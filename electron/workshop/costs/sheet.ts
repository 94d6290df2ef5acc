/** The cost sheet of one knife as the contract shows it. */
import type { Rung } from '../../api/builds.ts';
import type { CostSheet, SheetLine, StageHours, Working } from '../../api/costs.ts';
import type { SheetLine as DomainLine } from '../../domain/cost-sheet.ts';
import { allocate } from '../../domain/integers.ts';
import { minorToMicro } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { feeByRule, feeWords } from './fee-words.ts';
import { gather, type Gathered } from './gather.ts';
import { netOf } from './net.ts';
import { remarksOn } from './remarks.ts';
import { type Entry, rateOn, rateWorking, sessionWorking } from './working.ts';

const rungWords: Readonly<Record<Rung, string>> = {
  1: 'flat per knife',
  2: 'usual for the model',
  3: 'shared by what was opened',
  4: 'average of measured knives',
};

/** The weakest rung an amount stands on: a figure is no better than its roughest part. */
function rungNote(entries: readonly Entry[]): string {
  const rungs = entries.map((entry) => entry.working.rung).filter((rung) => rung !== null);
  const weakest = rungs.sort()[0];
  return weakest === undefined ? '' : rungWords[weakest];
}

const costLine = (line: DomainLine, entries: readonly Entry[]): SheetLine => ({
  key: line.kind === 'material' ? `material:${line.label}` : line.kind,
  label: line.label,
  amountMinor: line.amountMinor,
  exactMicro: line.exactMicro,
  note: line.kind === 'material' ? '' : rungNote(entries),
  working: entries.map((entry) => entry.working),
});

function lineOf(known: Gathered, kind: DomainLine['kind']): DomainLine {
  const line = known.reckoned.lines.find((each) => each.kind === kind);
  if (!line) throw new Error(`The sheet has no line ${kind}`);
  return line;
}

const hourLine = (known: Gathered, kind: 'labour' | 'overhead'): SheetLine => {
  const { amountMinor, exactMicro, label } = lineOf(known, kind);
  const working = rateWorking(known.works, known.rates, kind, known.currency);
  return { key: kind, label, amountMinor, exactMicro, note: '', working };
};

/** Labour by stage. Rounding is done once, on the labour line; its stages share it so that they add up to it. */
const stagesOf = ({ reckoned, works, rates, currency }: Gathered): StageHours[] => {
  const shown = allocate(
    reckoned.labourMinor,
    reckoned.stages.map((stage) => stage.valueMicro),
  );
  return reckoned.stages.map((stage, at) => ({
    code: stage.stage,
    name: stage.name,
    minutes: stage.minutes,
    guessedMinutes: stage.guessedMinutes,
    labourMinor: shown[at] ?? 0,
    working: works
      .filter((work) => work.code === stage.stage)
      .map((work) => sessionWorking(work, rateOn(rates, 'labour', work.on_date), currency)),
  }));
};

type Sale = NonNullable<CostSheet['sale']>;

function sellingLine(known: Gathered, key: 'postage' | 'fee', amountMinor: number, how: string): SheetLine {
  const exactMicro = minorToMicro(amountMinor, known.decimals);
  const label = lineOf(known, key).label;
  const on = known.sale?.on_date ?? '';
  const source = known.sale ? ({ kind: 'sale', id: known.sale.id } as const) : null;
  const working: Working[] = amountMinor === 0 ? [] : [{ on, label, how, exactMicro, rung: null, source }];
  return { key, label, amountMinor, exactMicro, note: '', working };
}

/** The rule in words where it still gives the fee booked; else the fee was entered as paid. */
function feeHow(known: Gathered): string {
  const { sale } = known;
  if (!sale) return '';
  const net = netOf(sale);
  const abroad = sale.abroad === 1;
  return feeByRule(sale, { ...net, taxMinor: sale.tax_minor, abroad }) === sale.fee_minor
    ? feeWords(sale, net.totalMinor, abroad, known.currency)
    : 'as entered for this sale';
}

function saleOf(known: Gathered): Sale | null {
  const { sale, reckoned } = known;
  const earnings = reckoned.earnings;
  if (!sale || !earnings) return null;
  const net = netOf(sale);
  return {
    on: sale.on_date,
    buyerName: sale.buyer_name,
    channelName: sale.channel_name,
    priceMinor: net.priceMinor,
    shippingMinor: net.shippingMinor,
    taxMinor: sale.tax_minor,
    postage: sellingLine(known, 'postage', sale.postage_paid_minor, 'as entered for this sale'),
    fee: sellingLine(known, 'fee', sale.fee_minor, feeHow(known)),
    contributionMinor: earnings.contributionMinor,
    contributionPerHourMinor: earnings.perHourMinor,
    earnedPerHourMinor: earnings.earnedPerHourMinor,
    leftAtRateMinor: earnings.leftMinor,
    marginAtRatePpm: earnings.marginPpm,
  };
}

/**
 * The cost sheet of a knife.
 * @param today local day the sheet is as of
 * @throws FaultError when the knife is not in the books
 */
export function costSheet(db: ReadDb, buildId: string, today: string): CostSheet {
  const known = gather(db, buildId, today);
  const { knife, uses, reckoned } = known;
  const materials = reckoned.lines.filter((line) => line.kind === 'material');
  return {
    buildId: knife.id,
    serial: knife.serial,
    title: knife.title,
    modelCode: knife.model_code,
    modelName: knife.model_name,
    state: knife.state,
    currency: known.currency,
    decimals: known.decimals,
    asOf: today,
    materials: materials.map((line) => costLine(line, uses.materials.get(line.label) ?? [])),
    materialsMinor: reckoned.materialsMinor,
    consumables: costLine(lineOf(known, 'consumables'), uses.consumable),
    energy: costLine(lineOf(known, 'energy'), uses.energy),
    packaging: costLine(lineOf(known, 'packaging'), uses.packaging),
    directMinor: reckoned.directMinor,
    stages: stagesOf(known),
    minutes: reckoned.minutes,
    guessedMinutes: reckoned.guessedMinutes,
    labour: hourLine(known, 'labour'),
    overhead: hourLine(known, 'overhead'),
    sale: saleOf(known),
    askedMinor: known.askedMinor,
    views: reckoned.views,
    remarks: remarksOn({
      works: known.works,
      rates: known.rates,
      minutes: reckoned.minutes,
      guessedMinutes: reckoned.guessedMinutes,
      materials: materials.length,
      consumables: uses.consumable,
    }),
  };
}
