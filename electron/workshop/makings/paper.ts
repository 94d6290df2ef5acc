/** Turns a making into finished text for its sheet. */
import type { MakingDetail, MakingLine, MakingOutput } from '../../api/makings.ts';
import type { MakingPaper } from '../../documents/types.ts';
import { minutesText } from '../../domain/durations.ts';
import { mulDiv } from '../../domain/integers.ts';
import { formatMicro, formatMinor } from '../../domain/money.ts';
import { toBase } from '../../domain/quantity.ts';
import { weighedText } from '../../domain/weighing.ts';
import { describer } from '../stock/views.ts';
import { shareWords, stateWords, tenth } from './words.ts';

/** What the paper needs beside the making. */
export interface MakingHouse {
  readonly name: string;
  readonly paper: string;
  readonly currency: string;
  /** Whether the workshop weighs in ounces. */
  readonly ounces: boolean;
  /** UTC ISO instant. */
  readonly madeAt: string;
  readonly today: string;
}

function stepsOf({ steps }: MakingDetail, ounces: boolean): MakingPaper['steps'] {
  const first = steps.find((step) => step.weightAfterNg !== null)?.weightAfterNg ?? null;
  return steps.map((step) => ({
    on: step.on,
    label: step.label,
    detail: [step.pieces > 1 ? `cut into ${step.pieces} and stacked` : '', step.note]
      .filter((part) => part !== '')
      .join('; '),
    weight: step.weightAfterNg === null ? '' : weighedText(step.weightAfterNg, ounces),
    loss: step.lossPpm === null ? '' : tenth(step.lossPpm),
    layers: step.layers === null ? '' : String(step.layers),
    part: step.weightAfterNg === null || first === null ? null : step.weightAfterNg / first,
  }));
}

type Row = MakingPaper['sections'][number]['rows'][number];

/** One step of working is told beside the line; several are printed after the sheet. */
const lineRow = (line: MakingLine, currency: string): Row => ({
  label: line.label,
  detail: line.working.length === 1 ? (line.working[0]?.how ?? '') : '',
  amount: formatMinor(line.amountMinor, currency),
  strong: false,
});

const plainRow = (label: string, detail: string, amount: string): Row => ({
  label,
  detail,
  amount,
  strong: false,
});

/** What the bar cost by weight, each way the workshop weighs. */
function weightRows(making: MakingDetail, { currency, ounces }: MakingHouse): Row[] {
  const { perKgMicro } = making;
  if (perKgMicro === null) return [];
  const what = making.state === 'done' ? 'of what came out' : 'of what was weighed last';
  const each = (label: string, micro: number): Row => plainRow(label, what, formatMicro(micro, currency, 3));
  const perOunce = mulDiv(perKgMicro, toBase(1, 'oz'), toBase(1, 'kg'));
  return [...(ounces ? [each('Per ounce', perOunce)] : []), each('Per kilogram', perKgMicro)];
}

function costRows(making: MakingDetail, house: MakingHouse): Row[] {
  const { currency } = house;
  const total: Row = { ...plainRow('Together', '', formatMinor(making.directMinor, currency)), strong: true };
  return [
    ...making.lines.map((line) => lineRow(line, currency)),
    total,
    ...weightRows(making, house),
    ...(making.minutes === 0
      ? []
      : [
          plainRow(
            'Hours, shown apart',
            `${minutesText(making.minutes)} at the rates in force`,
            formatMinor(making.labourMinor, currency),
          ),
        ]),
  ];
}

function outputOf(output: MakingOutput, currency: string): MakingPaper['outputs'][number] {
  const { lot } = output;
  const write = describer({ form: lot.form, unit: lot.unit, piece_word: lot.pieceWord });
  return {
    lot: lot.tag,
    name: lot.itemName,
    amount: write(lot.qtyReceived),
    value: formatMicro(output.valueMicro, currency, 2),
    time: minutesText(output.minutes),
    detail: output.taken.map((one) => `${write(one.qty)} for ${one.serial}`).join(', '),
  };
}

const factsOf = (making: MakingDetail, house: MakingHouse): MakingPaper['facts'] => [
  { label: 'Begun', text: making.startedOn },
  { label: making.state === 'open' ? 'As of' : 'Ended', text: making.endedOn ?? house.today },
  { label: 'State', text: stateWords[making.state] },
  ...(making.layers === null ? [] : [{ label: 'Layers', text: String(making.layers) }]),
  ...(making.totalLossPpm === null ? [] : [{ label: 'Lost in all', text: tenth(making.totalLossPpm) }]),
  { label: 'Cost shared', text: shareWords[making.shareKey] },
  { label: 'Amounts in', text: house.currency },
];

/** The paper of a making. */
export function makingPaper(making: MakingDetail, house: MakingHouse): MakingPaper {
  const { currency } = house;
  return {
    size: house.paper === 'A4' ? 'A4' : 'Letter',
    language: 'en',
    madeAt: house.madeAt,
    workshopName: house.name,
    title: 'Making',
    tag: making.tag,
    name: making.title,
    facts: factsOf(making, house),
    steps: stepsOf(making, house.ounces),
    sections: [{ heading: 'What it cost', rows: costRows(making, house) }],
    outputs: making.outputs.map((output) => outputOf(output, currency)),
    remarks: [
      making.note,
      making.endReason === '' ? '' : `Scrapped: ${making.endReason}`,
      ...making.remarks,
    ].filter((text) => text !== ''),
    working: making.lines
      .filter((line) => line.working.length > 1)
      .map((line) => ({
        heading: line.label,
        rows: line.working.map(({ on, label, how, exactMicro }) => ({
          on,
          label,
          how,
          exact: formatMicro(exactMicro, currency, 6),
        })),
      })),
  };
}
