/** First look and past sales from a file, as steps of the till: who may have a knife, and that a sale keeps to it. */
import type { Reply } from '../../electron/api/errors.ts';
import { addDays } from '../../electron/domain/calendar.ts';
import { expect } from 'vitest';
import type { Shop } from './shop.ts';
import { nothing, pick, priceOf, type Scene, type Till } from './till-scene.ts';

/** The first of two buyers supports the workshop at the higher of two levels, the second at none. */
export async function stockSupporters(shop: Shop, buyerId: string): Promise<void> {
  await shop.call('buyers.saveLevel', { name: 'Friend', rank: 1, perMonthMinor: 500 });
  const { id } = await shop.call('buyers.saveLevel', { name: 'Patron', rank: 2, perMonthMinor: 1500 });
  await shop.call('buyers.support', { buyerId, levelId: id, from: '2024-09-01' });
}

const finished = ({ db }: Till): readonly { readonly id: string; readonly serial: string }[] =>
  db.all(db.q.selectFrom('builds').select(['id', 'serial']).where('state', '=', 'finished').orderBy('id'));

const releases = ({ db }: Till, ...states: readonly string[]) =>
  db.all(db.q.selectFrom('releases').selectAll().where('state', 'in', states).orderBy('id'));

/** A release of some finished knives, its window open for some days or still to open. */
async function release({ till, step, send }: Scene): Promise<Reply> {
  const today = till.clock.today();
  const knives = (await till.call('releases.candidates', {})).filter((one) => one.taken === null);
  const some = knives.slice(step.at % 3).slice(0, 1 + (step.how % 3));
  const saved = await send('releases.save', {
    title: 'Look',
    rule: step.yes ? 'first' : 'lot',
    leastRank: 1 + (step.at % 2),
    oneEach: step.how % 2 === 0,
    holdMinutes: 1 + step.part * 40,
    earlyFrom: `${addDays(today, step.how % 3)}T12:00:00.000Z`,
    earlyUntil: `${addDays(today, 1 + (step.how % 3) + (step.at % 9))}T18:00:00.000Z`,
    knives: some.map(({ buildId }) => ({ buildId, ...priceOf(step) })),
  });
  if (!saved.ok) return saved;
  return send('releases.move', { id: (saved.value as { id: string }).id, to: 'set' });
}

/** Ends a release or drops it, or takes one knife out of it. */
function endRelease({ till, step, send }: Scene): Promise<Reply> {
  const one = pick(releases(till, 'set'), step.at);
  if (one === undefined) return Promise.resolve(nothing);
  const why = { id: one.id, reason: 'another day' };
  if (step.how % 3 !== 0) return send('releases.move', { ...why, to: step.yes ? 'ended' : 'dropped' });
  return send('releases.withdraw', { ...why, buildId: pick(finished(till), step.how)?.id ?? 'none' });
}

function hold({ till, step, send }: Scene): Promise<Reply> {
  const buildId = pick(finished(till), step.at)?.id ?? 'none';
  const minutes = step.how % 2 === 0 ? { minutes: 1 + step.part * 25 } : {};
  return send('releases.hold', { buildId, buyerId: pick(till.stocked.buyers, step.how), ...minutes });
}

/** A hold or an offer that runs; one is made where none does. */
async function running(scene: Scene) {
  const { till, step } = scene;
  if ((await till.call('releases.running', {})).length === 0) await hold(scene);
  return pick(await till.call('releases.running', {}), step.at);
}

async function free(scene: Scene): Promise<Reply> {
  const { step, send } = scene;
  const claim = await running(scene);
  if (claim === undefined) return nothing;
  return send('releases.free', { claimId: claim.id, as: step.yes ? 'freed' : 'declined' });
}

/** Sells a knife to whom it is held for. */
async function sellHeld(scene: Scene): Promise<Reply> {
  const { till, step, on, send } = scene;
  const claim = await running(scene);
  if (claim === undefined) return nothing;
  const { buildId, buyerId } = claim;
  return send('selling.sell', {
    ...{ ...priceOf(step), buildId, buyerId, on },
    channelId: pick(till.stocked.channels, step.at),
    taxPlaceId: pick(till.stocked.places, step.how) ?? null,
    invoice: step.yes,
  });
}

const lots = (till: Till) => releases(till, 'set').filter(({ rule }) => rule === 'lot');

/** Names in the hat while the window is open, and the draw when it has closed; then the next name. */
async function hat(scene: Scene): Promise<Reply> {
  const { till, step, send } = scene;
  if (lots(till).length === 0) await release({ ...scene, step: { ...step, yes: false } });
  const one = pick(lots(till), step.at);
  if (one === undefined) return nothing;
  const { knives } = await till.call('releases.get', { id: one.id });
  const buildId = pick(knives, step.how)?.buildId ?? 'none';
  if (till.clock.now() < one.early_from) till.clock.set(one.early_from);
  for (const buyerId of till.stocked.buyers)
    await send('releases.enter', { id: one.id, buyerId, buildId: step.yes ? buildId : null });
  if (step.how % 3 === 0) return nothing;
  if (till.clock.now() < one.early_until) till.clock.set(one.early_until);
  const drawn = await send('releases.draw', { id: one.id, seed: `seed ${String(step.part)}` });
  if (step.how % 3 === 1) return drawn;
  await free(scene);
  return send('releases.next', { id: one.id, buildId });
}

/** A file of one or two past sales, with the tax that a place would have taken. */
async function bringIn({ till, step, on, send }: Scene): Promise<Reply> {
  const knives = finished(till).slice(step.at % 2, (step.at % 2) + 1 + (step.how % 2));
  const { priceMinor, shippingMinor } = priceOf(step);
  const figures = await till.core.call('selling.figures', {
    ...{ buildId: knives[0]?.id ?? 'none', channelId: till.stocked.channels[0], priceMinor, shippingMinor },
    taxPlaceId: pick(till.stocked.places, step.how) ?? null,
  });
  const tax = figures.ok ? (figures.value as { readonly taxMinor: number }).taxMinor : 0;
  const money = (minor: number): string => (minor / 100).toFixed(2);
  const buyers = ['Ottoline Fernshaw', 'Hesper Quill', 'Somebody New'];
  const lines = knives.map(({ serial }, at) =>
    [
      ...[addDays(on, -at), serial, pick(buyers, step.part + at), money(priceMinor), money(shippingMinor)],
      ...[money(tax), money(step.at), step.yes ? 'yes' : 'no', step.yes && step.how % 3 === 0 ? 'card' : ''],
    ].join(','),
  );
  const text = ['Date,Knife,Buyer,Price,Shipping charged,Sales tax,Fee,Issue invoice,Paid by', ...lines].join(
    '\n',
  );
  const looked = await till.call('imports.look', { kind: 'sales', text });
  return send('imports.run', { kind: 'sales', text, mapping: looked.mapping, makeMissing: step.how !== 5 });
}

export const lookDoings: Readonly<Record<string, (scene: Scene) => Promise<Reply>>> = {
  ...{ release, endRelease, hold, free, sellHeld, hat, bringIn },
};

/**
 * At no instant two people have a knife; what is sold is held for nobody; a release's page and its log tell the sales
 * that name it, and no other.
 */
export async function checkLook(till: Till): Promise<void> {
  const { db } = till;
  const now = till.clock.now();
  const claims = db.all(db.q.selectFrom('claims').selectAll().orderBy('from_at'));
  const sales = db.all(db.q.selectFrom('sales').selectAll().where('taken_back_on', 'is', null));
  const end = (claim: (typeof claims)[number]): string =>
    claim.ended_at !== null && claim.ended_at < claim.until_at ? claim.ended_at : claim.until_at;
  for (const [at, claim] of claims.entries()) {
    const other = claims
      .slice(at + 1)
      .find((one) => one.build_id === claim.build_id && one.from_at < end(claim));
    expect(other, `held by two: ${claim.id} until ${end(claim)}`).toBeUndefined();
    const sold = sales.find((sale) => sale.build_id === claim.build_id);
    if (sold !== undefined && claim.ended_at === null)
      expect(claim.until_at <= now, `${claim.id} runs on a sold knife`).toBe(true);
  }
  for (const { id } of releases(till, 'set', 'ended')) {
    const page = await till.call('releases.get', { id });
    const own = sales.filter((sale) => sale.release_id === id).map((sale) => sale.build_id);
    const told = page.knives.filter((knife) => knife.state === 'sold').map((knife) => knife.buildId);
    expect(told.toSorted(), `sold of ${page.tag}`).toEqual(own.toSorted());
    const count = (what: string): number => page.log.filter((line) => line.what === what).length;
    expect(count('sold') - count('broughtBack'), `log of ${page.tag}`).toBeGreaterThanOrEqual(own.length);
  }
}
