/** Tempering, fuel and current against published figures. */
import { describe, expect, it } from 'vitest';
import { FLASH_MARGIN_MILLI_K, nearFlash } from '../../electron/domain/baths.ts';
import { currentCost, ovenWattHours } from '../../electron/domain/burns.ts';
import { parseDuration } from '../../electron/domain/durations.ts';
import {
  btuToJoules,
  btuToWattHours,
  gasMinutes,
  PROPANE_BTU_PER_LB,
  propaneBtu,
  propaneRate,
} from '../../electron/domain/energy.ts';
import { microToMinor } from '../../electron/domain/money.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { rational, toScaled } from '../../electron/domain/rational.ts';
import { colourSpread, temperColourSources, temperColours } from '../../electron/domain/temper-colours.ts';
import { temperParameterMilli } from '../../electron/domain/tempering.ts';
import { toCelsius } from '../../electron/domain/temperature.ts';

const at600 = (minutes: number) => ({ milliC: 600_000, minutes });

/** Formula read at dillinger.de: HP = (273 + T)(20 + log10 t) / 1000 with t in hours; figures worked from it with 273.15. */
describe('Hollomon–Jaffe parameter', () => {
  it('of an hour at 600 °C is 17.463', () => {
    expect(temperParameterMilli([at600(60)])).toBe(17_463);
  });
  it('of two hours in a row at 600 °C adds the times: 17.726', () => {
    expect(temperParameterMilli([at600(60), at600(60)])).toBe(17_726);
  });
  it('of two stays is that of one of twice the length', () => {
    expect(temperParameterMilli([at600(60), at600(60)])).toBe(temperParameterMilli([at600(120)]));
  });
  it('takes sixty minutes for an hour, never for sixty hours, which would give 19.016', () => {
    const typed = parseDuration('60 min');
    expect(typed).toEqual({ ok: true, value: 60 });
    expect(temperParameterMilli([at600(60)])).not.toBe(19_016);
    expect(temperParameterMilli([at600(60 * 60)])).toBe(19_016);
  });
  it('does not guess whether a bare 60 is hours or minutes', () => {
    expect(parseDuration('60')).toMatchObject({ ok: false });
  });
  it('of unlike tempers does not depend on their order', () => {
    const first = { milliC: 205_000, minutes: 120 };
    const second = { milliC: 190_000, minutes: 120 };
    expect(temperParameterMilli([first, second])).toBe(temperParameterMilli([second, first]));
    expect(temperParameterMilli([first, second])).toBeGreaterThan(temperParameterMilli([first]) ?? Infinity);
  });
  it('is not told where nothing was tempered', () => {
    expect(temperParameterMilli([])).toBeNull();
    expect(temperParameterMilli([at600(0)])).toBeNull();
  });
});

describe('heat in fuel and current', () => {
  it('makes 3,412 Btu of a kilowatt-hour (eia.gov; 3,412.14 by definition)', () => {
    expect(btuToWattHours(3412)).toBe(1000);
    expect(Math.round(btuToJoules(3_412_142) / 1000)).toBe(3_600_000);
  });
  it('finds 430,960 Btu = 126.3 kWh = 454.7 MJ in 20 lb of propane at 21,548 Btu a pound (patioheat.com)', () => {
    const btu = propaneBtu(toBase(20, 'lb'));
    expect(PROPANE_BTU_PER_LB).toBe(21_548);
    expect(btu).toBe(430_960);
    expect(Math.round(btuToWattHours(btu) / 100) / 10).toBe(126.3);
    expect(Math.round(btuToJoules(btu) / 100_000) / 10).toBe(454.7);
  });
  it('empties that cylinder at 100,000 Btu an hour in 4.31 h', () => {
    const minutes = gasMinutes(toBase(20, 'lb'), propaneRate(100_000));
    expect(minutes).toBe(258);
    expect(Math.round((430_960 / 100_000) * 60)).toBe(259);
  });
  it('lies between the tables of heat per pound: 21,548 net, 21,591 gross, 21,622 in CAN/CGA-B149.2-M95', () => {
    expect(Math.abs(PROPANE_BTU_PER_LB / 21_622 - 1)).toBeLessThan(0.005);
    expect(PROPANE_BTU_PER_LB).toBeLessThan(21_591);
    // 49,700 kJ/kg of the same extract, within half a percent.
    const perKilogram = btuToJoules(propaneBtu(toBase(1, 'kg'))) / 1000;
    expect(Math.abs(perKilogram / 49_700 - 1)).toBeLessThan(0.01);
  });
  it('holds against heat per US gallon at 0.51 kg/l: 91,333 to 91,547 Btu in four tables, within 2 %', () => {
    const gallon = propaneBtu(Math.round(toBase(1, 'kg') * 0.51 * 3.785411784));
    for (const table of [91_333, 91_452, 91_502, 91_547]) {
      expect(Math.abs(gallon / table - 1)).toBeLessThan(0.02);
    }
  });
  it('reckons 2.4 kW for 6.5 h at 60 % as 9.36 kWh, and at 0.1725 as 1.6146, which is 1.61', () => {
    const wattHours = ovenWattHours(2400, 600_000, 390);
    expect(wattHours).toBe(9360);
    expect(currentCost(wattHours, 172_500)).toBe(1_614_600);
    expect(microToMinor(currentCost(wattHours, 172_500), 2)).toBe(161);
  });
});

/** As printed by the three sources named in the table itself; read there. */
describe('temper colours', () => {
  it('differ between the sources for every colour', () => {
    expect(temperColourSources).toHaveLength(3);
    for (const colour of temperColours) expect(colourSpread(colour)).toBeGreaterThan(0);
    expect(temperColours[0]?.fahrenheit).toEqual([430, 390, 410]);
    expect(temperColours.at(-1)?.fahrenheit).toEqual([570, 575, 550]);
  });
  it('rise from colour to colour in each table', () => {
    for (const at of [0, 1, 2] as const) {
      const column = temperColours.map((row) => row.fahrenheit[at]);
      expect(column).toEqual([...column].sort((a, b) => a - b));
    }
  });
});

/** 29 CFR 1910.126(a): an alarm when the liquid comes within 50 °F of its flash point. */
describe('distance to the flash point', () => {
  it('is 50 °F, and E7c gives 380 °F as 193.33 °C', () => {
    const flash = toScaled(toCelsius(rational(380)), 3);
    expect(flash).toBe(193_333);
    const alarm = toScaled(toCelsius(rational(330)), 3);
    expect(flash - alarm).toBe(FLASH_MARGIN_MILLI_K - 1);
    expect(nearFlash(toScaled(toCelsius(rational(331)), 3), flash)).toBe(true);
    expect(nearFlash(toScaled(toCelsius(rational(329)), 3), flash)).toBe(false);
  });
});
