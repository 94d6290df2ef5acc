/** The ledger of a quench bath. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bathDue,
  type BathEntry,
  bathState,
  emptyBath,
  quenchCost,
  quenchesLeft,
} from '../../electron/domain/baths.ts';
import { gasByTime, gasByWeight } from '../../electron/domain/burns.ts';
import { bothScales, heatCautions } from '../../electron/domain/heat-treatment.ts';
import { toBase } from '../../electron/domain/quantity.ts';

const entry = (kind: string, more: Partial<BathEntry> = {}): BathEntry => ({
  on: '2024-07-10',
  kind,
  qtyNl: 0,
  quenches: 0,
  valueMicro: 0,
  ...more,
});
const gallons = toBase(5, 'gal');
/** The demo workshop's oil: five gallons at 29.60. */
const fill = entry('fill', { qtyNl: gallons, valueMicro: 148_000_000 });

describe('a bath', () => {
  it('charges every blade of its life the same and is empty of value at the end', () => {
    let state = bathState([fill]);
    const paid: number[] = [];
    for (let at = 0; at < 300; at += 1) {
      const cost = quenchCost(state, 300, 1);
      paid.push(cost);
      state = { ...state, valueMicro: state.valueMicro - cost, quenches: state.quenches + 1 };
    }
    expect(state.valueMicro).toBe(0);
    expect(Math.max(...paid) - Math.min(...paid)).toBeLessThanOrEqual(1);
    // 148.00 over 300 quenches.
    expect(paid[0]).toBe(493_333);
  });
  it('charges several dips as it charges them one by one', () => {
    expect(quenchCost({ valueMicro: 300_000_000, quenches: 100 }, 300, 4)).toBe(6_000_000);
  });
  it('never reckons with fewer than one dip left', () => {
    expect(quenchesLeft(300, 299)).toBe(1);
    expect(quenchesLeft(300, 400)).toBe(1);
    expect(quenchCost({ valueMicro: 29_600_000, quenches: 320 }, 300, 1)).toBe(29_600_000);
    expect(quenchCost({ valueMicro: 0, quenches: 320 }, 300, 1)).toBe(0);
  });
  it('charges nothing where no life is set', () => {
    expect(quenchCost({ valueMicro: 29_600_000, quenches: 0 }, null, 3)).toBe(0);
  });
  it('starts from nothing again when the oil is changed', () => {
    const quench = entry('quench', { quenches: 4, valueMicro: -2_000_000 });
    const change = entry('change', { qtyNl: -gallons, quenches: -4, valueMicro: -146_000_000 });
    expect(bathState([fill, entry('water'), quench, change])).toEqual(emptyBath);
    expect(bathState([fill, entry('filter', { on: '2024-09-01' }), quench])).toEqual({
      volumeNl: gallons,
      valueMicro: 146_000_000,
      quenches: 4,
      filledOn: '2024-07-10',
      filteredOn: '2024-09-01',
      waterOn: null,
    });
  });
  it('loses no millionth through any row of fills and dips', () => {
    const step = fc.record({
      fill: fc.boolean(),
      value: fc.integer({ min: 1, max: 10 ** 12 }),
      dips: fc.integer({ min: 1, max: 40 }),
    });
    fc.assert(
      fc.property(fc.array(step), fc.integer({ min: 1, max: 60 }), (steps, life) => {
        let [valueMicro, quenches, came, went] = [0, 0, 0, 0];
        for (const { fill: pours, value, dips } of steps) {
          if (pours) {
            valueMicro += value;
            came += value;
            continue;
          }
          const cost = quenchCost({ valueMicro, quenches }, life, dips);
          expect(cost).toBeGreaterThanOrEqual(0);
          expect(cost).toBeLessThanOrEqual(valueMicro);
          valueMicro -= cost;
          went += cost;
          quenches += dips;
        }
        expect(came).toBe(went + valueMicro);
      }),
    );
  });
});

describe('what a bath is due', () => {
  const state = bathState([fill]);
  const life = { lifeQuenches: 300, lifeDays: 1000 };
  it('says nothing of fresh oil, nor of an empty tank', () => {
    expect(bathDue(state, life, 10)).toBeNull();
    expect(bathDue(emptyBath, life, 5000)).toBeNull();
  });
  it('puts suspected water before everything', () => {
    const wet = { ...state, quenches: 400, waterOn: '2024-08-01' };
    expect(bathDue(wet, life, 10)).toContain('change the oil at once');
  });
  it('tells what is due from what is due soon, by dips and by days', () => {
    expect(bathDue({ ...state, quenches: 269 }, life, 10)).toBeNull();
    expect(bathDue({ ...state, quenches: 270 }, life, 10)).toBe('Change soon: 270 of 300 quenches.');
    expect(bathDue({ ...state, quenches: 270 }, life, 1000)).toContain(
      'Change due: the oil is 1000 days old',
    );
    expect(bathDue({ ...state, quenches: 300 }, life, 950)).toContain('Change due: 300 quenches');
    expect(bathDue(state, { lifeQuenches: null, lifeDays: null }, 9999)).toBeNull();
  });
});

describe('gas', () => {
  it('by two weighings is the difference, and a cylinder that grew is refused', () => {
    expect(gasByWeight(toBase(31, 'lb'), toBase(27, 'lb'))).toEqual({ ok: true, value: toBase(4, 'lb') });
    expect(gasByWeight(toBase(27, 'lb'), toBase(27, 'lb')).ok).toBe(false);
  });
  it('by time is the demo billet’s 4.2 h at 3.2 lb an hour', () => {
    expect(gasByTime(toBase(16, 'lb') / 5, 252)).toBe(toBase(1344, 'lb') / 100);
  });
});

describe('cautions', () => {
  const plan = {
    steps: [{ kind: 'quench', tempMilliC: 55_000 }],
    fireKind: 'oven',
    flashMilliC: 180_000,
    inOil: true,
    bathDue: null,
  } as const;
  it('warn of hot oil only near its flash point, and defer to the safety sheet', () => {
    const calm = heatCautions(plan);
    expect(calm.join(' ')).not.toContain('Let it cool');
    expect(calm.at(-1)).toContain('safety sheet');
    const hot = heatCautions({ ...plan, steps: [{ kind: 'quench', tempMilliC: 155_000 }] });
    expect(hot[0]).toContain('155 °C (311 °F)');
    expect(hot[0]).toContain('within 28 °C (50 °F) of its flash point, 180 °C (356 °F)');
  });
  it('speak of gas for a forge, of wiring for an oven, and of nothing where there is nothing', () => {
    expect(heatCautions({ ...plan, fireKind: 'forge' }).join(' ')).toContain('carbon monoxide');
    expect(heatCautions(plan).join(' ')).toContain('electrician');
    expect(heatCautions({ ...plan, steps: [], inOil: false, fireKind: null, flashMilliC: null })).toEqual([]);
  });
  it('speak of no oil where blades went between plates or into moving air, and of oil wherever it may have been', () => {
    const about = (note: string, tempMilliC: number | null, inOil = false): string =>
      heatCautions({ ...plan, inOil, steps: [{ kind: 'quench', tempMilliC, note }] }).join(' ');
    for (const dry of ['Between plates', 'Plate quench', 'Air'])
      expect([dry, about(dry, null).replace('without oil', '').includes(' oil'), about(dry, null)]).toEqual([
        dry,
        false,
        expect.stringContaining('heavy gloves'),
      ]);
    for (const wet of [
      about('', null),
      about('Canola, plates after', 55_000),
      about('Between plates', null, true),
    ])
      expect(wet).toContain('class B extinguisher');
  });
  it('write both scales', () => {
    expect(bothScales(815_556)).toBe('816 °C (1500 °F)');
  });
});
