/** The cost sheet of one knife as the contract shows it. */
import type { CostSheet, SheetLine, StageHours, Working } from '../../api/costs.ts';
import type { SheetLine as DomainLine } from '../../domain/cost-sheet.ts';
import { rungWords } from '../../domain/ladder.ts';
import { minorToMicro } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { salesTakenBack } from '../../storage/queries/returns.ts';
import { feeByRule, feeWords } from './fee-words.ts';
import { gather, type Gathered } from './gather.ts';
import { rateOn } from './hour-rates.ts';
import { netOf, standingOf } from './net.ts';
import { remarksOn } from './remarks.ts';
import { type Entry, overheadWorking, sessionWorking, stageWorking } from './working.ts';

/** The weakest rung an amount stands on: a figure is no better than its roughest part. */
function rungNote(entries: readonly Entry[]): string {
  const rungs = entries.map((entry) => entry.working.rung).filter((rung) => rung !== null);
  const weakest = rungs.sort()[0];
  return weakest === undefined ? '' : rungWords[weakest];
}

const costLine = (key: string, line: DomainLine, entries: readonly Entry[], note: string): SheetLine => ({
  key,
  ...line,
  note,
  working: entries.map((entry) => entry.working),
});

const materialLine = (line: DomainLine, { uses }: Gathered): SheetLine =>
  costLine(`material:${line.label}`, line, uses.materials.get(line.label) ?? [], '');

const usedLine = (key: string, line: DomainLine, entries: readonly Entry[]): SheetLine =>
  costLine(key, line, entries, rungNote(entries));

/** Labour by stage; the line under them adds them as shown. */
function labourOf(known: Gathered): { readonly stages: StageHours[]; readonly labour: SheetLine } {
  const { reckoned, rates, currency } = known;
  const worked = reckoned.stages.map((stage) => ({
    stage,
    works: known.works.filter((work) => work.code === stage.code),
  }));
  return {
    stages: worked.map(({ stage, works }) => ({
      ...stage,
      working: works.map((work) => sessionWorking(work, rateOn(rates, 'labour', work), currency)),
    })),
    labour: {
      key: 'labour',
      ...reckoned.labour,
      note: '',
      working: worked.map(({ stage, works }) => stageWorking(stage, works, rates, known)),
    },
  };
}

const madeLine = ({ reckoned, made }: Gathered): CostSheet['madeLabour'] => ({
  key: 'madeLabour',
  ...reckoned.madeLabour,
  note: made.length === 0 ? '' : 'not among the knife’s own hours',
  minutes: made.reduce((so, one) => so + one.minutes, 0),
  working: made.map((one) => one.working),
});

type Sale = NonNullable<CostSheet['sale']>;

const sellingLabels = { postage: 'Postage paid', fee: 'Payment fee' } as const;

function sellingLine(
  known: Gathered,
  key: keyof typeof sellingLabels,
  amountMinor: number,
  how: string,
): SheetLine {
  const exactMicro = minorToMicro(amountMinor, known.decimals);
  const label = sellingLabels[key];
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
  const standing = standingOf(sale);
  return {
    on: sale.on_date,
    buyerName: sale.buyer_name,
    channelName: sale.channel_name,
    ...standing,
    postage: sellingLine(known, 'postage', sale.postage_paid_minor, 'as entered for this sale'),
    fee: sellingLine(known, 'fee', sale.fee_minor, feeHow(known)),
    ...earnings,
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
    materials: reckoned.materials.map((line) => materialLine(line, known)),
    materialsMinor: reckoned.materialsMinor,
    consumables: usedLine('consumables', reckoned.consumables, uses.consumable),
    energy: usedLine('energy', reckoned.energy, uses.energy),
    packaging: usedLine('packaging', reckoned.packaging, uses.packaging),
    madeLabour: madeLine(known),
    directMinor: reckoned.directMinor,
    ...labourOf(known),
    minutes: reckoned.minutes,
    guessedMinutes: reckoned.guessedMinutes,
    overhead: {
      key: 'overhead',
      ...reckoned.overhead,
      note: '',
      working: overheadWorking(known.works, known.rates, known.currency),
    },
    sale: saleOf(known),
    askedMinor: known.askedMinor,
    views: reckoned.views,
    remarks: remarksOn({
      works: known.works,
      rates: known.rates,
      minutes: reckoned.minutes,
      guessedMinutes: reckoned.guessedMinutes,
      madeMinutes: known.made.reduce((so, one) => so + one.minutes, 0),
      materials: reckoned.materials.length,
      consumables: uses.consumable,
      takenBack: salesTakenBack(db, buildId),
      currency: known.currency,
    }),
  };
}
