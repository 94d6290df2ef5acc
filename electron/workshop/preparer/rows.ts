/** The sheet as plain rows for a workbook: header row, ISO days, point decimals. */
import type { PreparerSheet } from '../../api/preparer.ts';
import { decimalText } from '../../domain/rational.ts';

type Row = readonly (string | number)[];

/** Every line with what stands on it, the figures on no line, and the lists. */
export function sheetRows(sheet: PreparerSheet): readonly Row[] {
  const money = (minor: number): number => Number(decimalText(minor, sheet.decimals));
  const two = (of: { readonly cashMinor: number; readonly earnedMinor: number }): readonly number[] => [
    money(of.cashMinor),
    money(of.earnedMinor),
  ];
  return [
    ['part', 'line', 'label', 'what', 'by day paid', 'by day earned'],
    ...sheet.lines.flatMap((line): Row[] => [
      [line.part, line.code, line.label, '', ...two(line)],
      ...line.from.map((from): Row => [line.part, line.code, line.label, from.label, ...two(from)]),
    ]),
    ...sheet.unplaced.map((from): Row => ['on no line', '', '', from.label, ...two(from)]),
    ...sheet.leftOff.map((from): Row => ['left off', '', '', from.label, ...two(from)]),
    ...sheet.tax.map((tax): Row => [
      'sales tax',
      `${tax.from} to ${tax.to}`,
      tax.place,
      `due and collected, on ${decimalText(tax.baseMinor, sheet.decimals)}`,
      money(tax.collectedMinor),
      money(tax.dueMinor),
    ]),
    ...sheet.held.map((held): Row => [
      'customers’ money',
      held.tag,
      held.buyerName,
      `held on ${sheet.to}`,
      money(held.minor),
      money(held.minor),
    ]),
    ...sheet.assets.map((asset): Row => [
      'asset',
      asset.inServiceOn,
      asset.name,
      `${asset.method}, cost ${decimalText(asset.costMinor, sheet.decimals)}`,
      money(asset.yearMinor),
      money(asset.yearMinor),
    ]),
    ...sheet.trips.map((trips): Row => [
      'mileage',
      trips.unit,
      `${String(trips.trips)} trips`,
      decimalText(trips.distanceMilli, 3),
      money(trips.amountMinor),
      money(trips.amountMinor),
    ]),
  ];
}
