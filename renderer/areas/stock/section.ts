/** What a bar's section says besides its size: the gauge it is sold by, and what a length of it weighs. */
import type { Item } from '../../../electron/api/stock.ts';
import { gaugeThickness, nearestGauge } from '../../../electron/domain/gauges.ts';
import { densityFromMetric, flatMass } from '../../../electron/domain/mass.ts';
import { formatQuantity, toBase } from '../../../electron/domain/quantity.ts';

/** A thousandth of an inch: mills print gauges no finer. */
const CLOSE = 25_400;

/** E.g. `11 gauge` for steel as thick as that sheet; empty where no gauge is. */
export const gaugeText = ({ kind, thicknessNm }: Pick<Item, 'kind' | 'thicknessNm'>): string => {
  if (kind !== 'steel' || thicknessNm === null) return '';
  const { gauge } = nearestGauge(thicknessNm);
  const off = Math.abs((gaugeThickness(gauge) ?? 0) - thicknessNm);
  return off <= CLOSE ? `${String(gauge)} gauge` : '';
};

/** E.g. `1 ft weighs 20.4 oz`; empty while section or density is not known. */
export const weightText = (
  { thicknessNm, widthNm, densityMilli }: Pick<Item, 'thicknessNm' | 'widthNm' | 'densityMilli'>,
  isInch: boolean,
  isOunce: boolean,
): string => {
  if (thicknessNm === null || widthNm === null || densityMilli === null) return '';
  const per = isInch ? 'ft' : 'm';
  const weight = flatMass(thicknessNm, widthNm, toBase(1, per), densityFromMetric(densityMilli));
  // A tenth of an ounce or a whole gram: no bar is rolled closer.
  const fine = isOunce ? toBase(1, 'oz') / 10 : toBase(1, 'g');
  const shown = Math.round(weight / fine) * fine;
  return `1 ${per} weighs ${formatQuantity(Math.round(shown), 'weight', isOunce ? 'oz' : 'g')}`;
};
