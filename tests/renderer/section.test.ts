import { describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { gaugeText, weightText } from '../../renderer/areas/stock/section.ts';

/** A bar 3/16 in × 2 in of carbon steel, 7.85 g/cm³. */
const bar = { thicknessNm: 4_762_500, widthNm: toBase(2, 'in'), densityMilli: 7850 };

describe('a bar’s section', () => {
  it('says what a foot weighs: 4.5 cubic inches at 7.85 g/cm³ are 578.9 g, which is 20.4 oz', () => {
    expect(weightText(bar, true, true)).toBe('1 ft weighs 20.4 oz');
    expect(weightText(bar, true, false)).toBe('1 ft weighs 579 g');
  });

  it('says what a metre weighs where lengths are metric', () => {
    const strip = { thicknessNm: toBase(4, 'mm'), widthNm: toBase(50, 'mm'), densityMilli: 7850 };
    expect(weightText(strip, false, false)).toBe('1 m weighs 1,570 g');
  });

  it('says nothing of a weight while something is not known', () => {
    for (const unknown of ['thicknessNm', 'widthNm', 'densityMilli']) {
      expect(weightText({ ...bar, [unknown]: null }, true, true)).toBe('');
    }
  });

  it('names the gauge of steel sheet, and none between two gauges or for other things', () => {
    // 0.1196 in, as published for 11 gauge.
    const thick = 3_037_840;
    expect(gaugeText({ kind: 'steel', thicknessNm: thick })).toBe('11 gauge');
    expect(gaugeText({ kind: 'steel', thicknessNm: thick + 25_401 })).toBe('');
    expect(gaugeText({ kind: 'handle', thicknessNm: thick })).toBe('');
    expect(gaugeText({ kind: 'steel', thicknessNm: null })).toBe('');
  });
});
