/** The billet PW-01: what went in, what each step left, what came out. */
import type { StepKind } from '../../api/makings.ts';
import type { UnitCode } from '../../domain/units.ts';
import type { ItemKey } from './items.ts';

interface BilletStep {
  readonly on: string;
  readonly kind: StepKind;
  readonly label: string;
  /** Weight after it; null where it was not weighed. */
  readonly grams: string | null;
  readonly pieces: number;
}

const step = (on: string, kind: StepKind, label: string, grams: string, pieces = 1): BilletStep => ({
  on,
  kind,
  label,
  grams,
  pieces,
});

export const billet = {
  title: 'Pattern-welded billet PW-01',
  start: '2025-05-03',
  end: '2025-05-11',
  layers: 15,
  took: [
    ['b1084', '56', 'in'],
    ['nickel', '49', 'in'],
    ['B36', '2', 'piece'],
    ['B120', '0.5', 'piece'],
  ] as readonly (readonly [ItemKey, string, UnitCode])[],
  charges: [
    ['Handle rod, wire, flux', '5.40'],
    ['Propane, 4.2 h × 3.2 lb/h × 1.20', '16.128'],
    ['Power of hammer and grinder', '1.60'],
  ] as readonly (readonly [string, string])[],
  sessions: [
    ['2025-05-03', 180, 'FRG'],
    ['2025-05-04', 90, 'FRG'],
    ['2025-05-10', 120, 'FRG'],
    ['2025-05-11', 60, 'GR1'],
  ] as readonly (readonly [string, number, string])[],
  steps: [
    step('2025-05-03', 'stack', 'Stack of 8 strips 1084 and 7 of nickel steel', '2028'),
    step('2025-05-03', 'weld', 'Weld, draw', '1866'),
    step('2025-05-03', 'clean', 'Clean faces, crop ends, cut in 4', '1735', 4),
    step('2025-05-04', 'weld', 'Restack 60 layers, weld, draw', '1614'),
    step('2025-05-04', 'clean', 'Clean, crop, cut in 4', '1517', 4),
    step('2025-05-10', 'weld', 'Restack 240 layers, weld, draw', '1441'),
    step('2025-05-11', 'grind', 'Surface grind to bar', '1383'),
    step('2025-05-11', 'crop', 'Coupon and end crops discarded', '1280'),
  ],
  good: '1280',
  cutOn: '2025-05-17',
  blanks: [
    ['W29', '380'],
    ['W30', '380'],
    ['W32', '300'],
  ] as readonly (readonly [string, string])[],
} as const;
