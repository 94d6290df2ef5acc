/** First look by the clock, households, and how a release is measured. */
import { expect, test } from 'vitest';
import {
  householdOf,
  measureRelease,
  type OfferedKnife,
  phaseOf,
  type Windows,
} from '../../electron/domain/releases.ts';

const windows: Windows = {
  state: 'set',
  previewOn: '2025-03-11',
  earlyFrom: '2025-03-14T18:00:00.000Z',
  earlyUntil: '2025-03-16T18:00:00.000Z',
};
const at = (now: string) => ({ now, today: now.slice(0, 10) });
const nothing = { toDraw: false, allGone: false };

test('a release goes from set to public by the clock alone, each bound belonging to what begins with it', () => {
  const phases = [
    '2025-03-10T23:59:59.999Z',
    '2025-03-11T00:00:00.000Z',
    '2025-03-14T17:59:59.999Z',
    '2025-03-14T18:00:00.000Z',
    '2025-03-16T17:59:59.999Z',
    '2025-03-16T18:00:00.000Z',
  ].map((now) => phaseOf(windows, at(now), nothing));
  expect(phases).toEqual(['set', 'shown', 'shown', 'early', 'early', 'public']);
  const late = at('2025-03-20T00:00:00.000Z');
  expect(phaseOf(windows, late, { toDraw: true, allGone: false })).toBe('draw');
  expect(phaseOf(windows, late, { toDraw: false, allGone: true })).toBe('over');
  expect(phaseOf({ ...windows, state: 'ended' }, late, nothing)).toBe('over');
  expect(phaseOf({ ...windows, state: 'draft' }, late, nothing)).toBe('draft');
  expect(phaseOf({ ...windows, previewOn: null }, at('2025-03-12T00:00:00.000Z'), nothing)).toBe('set');
});

test('one household is one address however it is written, and nobody without a street shares one', () => {
  const home = { address: '12 Larder Street', city: 'Meresbank', postcode: '00412', country: 'US' };
  expect(householdOf(home)).toBe(
    householdOf({ ...home, address: ' 12  LARDER street ', postcode: '00412 ' }),
  );
  expect(householdOf(home)).toBe(
    householdOf({ address: '12 Larder Street\nMeresbank\n00412', city: '', postcode: '', country: 'US' }),
  );
  expect(householdOf({ ...home, address: 'Rúa Nova 3' })).toBe(
    householdOf({ ...home, address: 'Rua Nova 3' }),
  );
  expect(householdOf({ ...home, address: '13 Larder Street' })).not.toBe(householdOf(home));
  expect(householdOf({ ...home, address: ' ' })).toBe('');
});

const DAY = 24 * 60;
const knife = (price: number, minutes: number | null, early = true): OfferedKnife => ({
  priceMinor: price,
  sold: minutes === null ? null : { minutes, priceMinor: price, early },
  withdrawn: false,
});

test('a release is measured by what was asked, sold early, sold later and left', () => {
  // Reckoned by hand from the invented release: prices 540, 540, 420, 325 and 265; hours 1, 2 and 60 after the opening.
  const knives = [
    knife(54_000, 60),
    knife(54_000, 120),
    knife(42_000, 60 * 60, false),
    knife(32_500, null),
    { ...knife(26_500, null), withdrawn: true },
  ];
  expect(measureRelease(knives, 29 * DAY)).toEqual({
    knives: 4,
    listMinor: 182_500,
    soldEarly: 2,
    soldEarlyMinor: 108_000,
    soldPublic: 1,
    soldPublicMinor: 42_000,
    unsold: 1,
    unsoldMinor: 32_500,
    earlyKnivesPpm: 500_000,
    // 1080 of 1825.
    earlyMoneyPpm: 591_781,
    firstMinutes: 60,
    medianMinutes: 120,
    sellOutMinutes: null,
    unsoldAfter30: null,
  });
  const later = measureRelease([...knives.slice(0, 3), knife(32_500, 31 * DAY, false)], 40 * DAY);
  expect(later).toMatchObject({ unsold: 0, sellOutMinutes: 31 * DAY, unsoldAfter30: 1, medianMinutes: 1860 });
  expect(measureRelease([], -5)).toMatchObject({
    earlyKnivesPpm: null,
    earlyMoneyPpm: null,
    sellOutMinutes: null,
  });
});
