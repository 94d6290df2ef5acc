/**
 * Densities a workshop needs, in kilograms per cubic metre. Published tables disagree; each row names the one it is from,
 * and where that table prints a range, both ends are kept and the middle is used.
 */
import { densityFromMetric } from './mass.ts';
import type { Density } from './mass.ts';
import { rational, times } from './rational.ts';

export interface DensityRow {
  readonly material: string;
  readonly kgPerM3: number;
  /** Lowest and highest value the source prints, where it prints a range. */
  readonly range?: readonly [number, number];
  readonly source: string;
}

const ASM = 'ASM Metals Handbook Desk Edition, as shown at matmake.com';
const GB = 'National-standard (GB/T) density list, secondary copy at compraco.com.br';
const METALS = 'Tables at wermac.org and simetric.co.uk';
const SIMETRIC = 'Table at simetric.co.uk';
const SHEET = 'Data sheets at k-mac-plastics.net and acculam.com';

const row = (material: string, kgPerM3: number, source: string): DensityRow => ({
  material,
  kgPerM3,
  source,
});

const ranged = (material: string, low: number, high: number, source: string): DensityRow => ({
  material,
  kgPerM3: (low + high) / 2,
  range: [low, high],
  source,
});

/** Materials by name, each with its source. */
export const densities: readonly DensityRow[] = [
  row('Carbon steel', 7850, 'Table at machinemfg.com; EN 1991-1-1 upper value 78.5 kN/m³'),
  row('Steel, 0.06 % carbon', 7871, ASM),
  row('Steel, 0.23 % carbon', 7859, ASM),
  row('Steel, 0.435 % carbon', 7844, ASM),
  row('Steel, 1.22 % carbon', 7830, ASM),
  row('Stainless 304', 7930, GB),
  row('Stainless 316', 7980, GB),
  row('Stainless 410', 7750, GB),
  row('Stainless 420', 7750, GB),
  row('Stainless 430', 7700, GB),
  row('Copper', 8940, METALS),
  row('Brass 60/40', 8520, METALS),
  ranged('Brass, rolled', 8430, 8730, METALS),
  row('Admiralty brass', 8530, METALS),
  ranged('Phosphor bronze', 8780, 8920, METALS),
  ranged('Nickel silver', 8400, 8900, METALS),
  row('Glass-epoxy laminate G-10/FR-4', 1820, SHEET),
  row('Canvas phenolic C/CE', 1350, SHEET),
  row('Linen phenolic L/LE', 1340, SHEET),
  row('Paper phenolic X', 1360, SHEET),
  row('Paper phenolic XX', 1340, SHEET),
  row('Paper phenolic XXX', 1320, SHEET),
  ranged('Ebony, dry', 960, 1120, SIMETRIC),
  ranged('Lignum vitae, dry', 1280, 1370, SIMETRIC),
  ranged('Teak, dry', 630, 720, SIMETRIC),
  ranged('Apple, dry', 660, 830, SIMETRIC),
  row('Iroko, dry', 655, SIMETRIC),
];

/** Looks a material up by its name in the table. */
export const densityOf = (material: string): DensityRow | undefined =>
  densities.find((entry) => entry.material === material);

/** Specific gravity of a wood: oven-dry mass over volume at 12 % moisture. */
export interface WoodRow {
  readonly species: string;
  /** Hundredths. */
  readonly gravityHundredths: number;
  readonly source: string;
}

const HANDBOOK = 'USDA Wood Handbook, mechanical properties table, secondary copy';

const wood = (species: string, gravityHundredths: number, source = HANDBOOK): WoodRow => ({
  species,
  gravityHundredths,
  source,
});

/** Woods by name, each with its source. */
export const woods: readonly WoodRow[] = [
  wood('Black cherry', 50),
  wood('White ash', 60),
  wood('American beech', 64),
  wood('Yellow birch', 62),
  wood('Shagbark hickory', 72),
  wood('Pignut hickory', 75),
  wood('Black locust', 69),
  wood('Sweet birch', 65),
  wood('Sugar maple', 63, 'Sugar maple figures at maplefloor.org'),
  wood('Red maple', 54),
  wood('Black walnut', 55, 'USDA Wood Handbook, from memory'),
  wood('Bigleaf maple', 48),
];

/** Looks a wood up by its name in the table. */
export const woodOf = (species: string): WoodRow | undefined =>
  woods.find((entry) => entry.species === species);

/** Oven-dry wood: specific gravity × 1000 kg/m³. */
export const ovenDryDensity = (gravityHundredths: number): Density =>
  densityFromMetric(gravityHundredths * 10);

/** Wood at 12 % moisture, its water weighed too: specific gravity × 1.12 (Wood Handbook, chapter 4, definition, from memory). */
export const airDryDensity = (gravityHundredths: number): Density =>
  times(ovenDryDensity(gravityHundredths), rational(112, 100));
