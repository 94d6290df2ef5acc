/** What the demo workshop tries out: stone against paper, with what the maker knows of practice. */
import type { Ask } from './desk.ts';
import { learning } from './learning.ts';
import type { House } from './set-up.ts';

/** One hundredth in parts per million. */
const HUNDREDTH = 10_000;

/** Models of one family share a table of practice; one of each family says it. */
const oneOfEach = ['PAR', 'PET', 'CHF', 'HUNB', 'CMPB'] as const;

/** Writes down how practice quickened each family, and the trials begun. */
export async function tryOut(ask: Ask, house: House): Promise<void> {
  const factorsPpm = learning.map((hundredths) => hundredths * HUNDREDTH);
  for (const variant of oneOfEach)
    await ask('trials.savePractice', { modelId: house.models[variant].id, factorsPpm });
  for (const { variant, title } of [
    { variant: 'CHF', title: 'Stone or paper on the plain chef' },
    { variant: 'HUNH', title: 'Stone or paper on the hunter' },
  ] as const)
    await ask('trials.save', {
      title,
      modelId: house.models[variant].id,
      stageCode: 'HND',
      first: { name: 'Paper', method: 'paper' },
      second: { name: 'Stone', method: 'stone' },
      note: 'Wet stones in three grits in the place of most of the paper.',
    });
  // The last ten weeks were slow before the holidays; 30,500 minutes in 78 weeks are what the bench really gives.
  await ask('promises.setWeek', { weekMinutes: 390 });
}
