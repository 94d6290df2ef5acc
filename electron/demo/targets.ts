/** What the demo workshop asks for at its gates. */
import type { Ask } from './desk.ts';
import type { House } from './set-up.ts';
import { edgeOf, hardenings } from './tables/heat.ts';
import { variants } from './tables/models.ts';

const HALF_MM = 500_000;
const THOU = 25_400;
const TENTH_HRC = 100;
/** One point either way. */
const TOLERANCE = 10;

/** Written down before the first batch. */
export async function askAtGates(ask: Ask, house: House): Promise<void> {
  await ask('gates.saveTarget', { measure: 'warp', target: 0, high: HALF_MM });
  for (const { steels, target } of hardenings) {
    for (const steel of steels)
      await ask('gates.saveTarget', {
        measure: 'hardness',
        steelItemId: house.items[steel],
        target: target * TENTH_HRC,
        low: (target - TOLERANCE) * TENTH_HRC,
        high: (target + TOLERANCE) * TENTH_HRC,
      });
  }
  for (const variant of variants) {
    const [low, high] = edgeOf[variant];
    await ask('gates.saveTarget', {
      measure: 'behindEdge',
      modelId: house.models[variant].id,
      low: low * THOU,
      high: high * THOU,
    });
  }
}
