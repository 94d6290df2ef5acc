/** After a stage was worked on: ticks it off for the knives it was booked on, with one touch and on the spot. */
import type { SessionRow } from '../../electron/api/hours.ts';
import { act } from './form.svelte.ts';
import { shop } from './shop.svelte.ts';
import { toasts } from './toasts.svelte.ts';

interface Knife {
  readonly id: string;
  readonly serial: string;
}

/** The knives of a session that have the stage still before them. */
const stillOpen = async (booked: SessionRow): Promise<readonly Knife[]> => {
  const knives = await Promise.all(
    booked.shares.map(({ buildId }) => shop.call('builds.get', { id: buildId })),
  );
  return knives.filter(
    ({ state, stages }) =>
      state === 'inWork' && stages.some(({ code, doneOn }) => code === booked.stageCode && doneOn === null),
  );
};

/** Ticks a stage for each of the knives, or takes the ticks away; those that worked. */
const tick = async (knives: readonly Knife[], code: string, done: boolean): Promise<readonly Knife[]> => {
  const ticked: Knife[] = [];
  for (const knife of knives) {
    const input = { id: knife.id, code, done, on: shop.today };
    if ((await act('builds.stage', input)) === undefined) break;
    ticked.push(knife);
  }
  return ticked;
};

/** Says what was booked, and offers to tick the stage where it is still open on a knife in work. */
export const sayBooked = async (text: string, booked: SessionRow | null): Promise<void> => {
  const code = booked?.stageCode ?? null;
  // Nothing is lost where the knives cannot be asked for: each has its ticks on its own screen.
  const open = booked === null || code === null ? [] : await stillOpen(booked).catch(() => []);
  if (booked === null || code === null || open.length === 0) {
    toasts.say(text);
    return;
  }
  const name = booked.stageName ?? code;
  const done = async (): Promise<void> => {
    const ticked = await tick(open, code, true);
    if (ticked.length === 0) return;
    const serials = ticked.map(({ serial }) => serial).join(', ');
    toasts.say(`${name} is done on ${serials}.`, () => void tick(ticked, code, false));
  };
  toasts.offer(text, { label: `${name} is done`, run: () => void done() });
};
