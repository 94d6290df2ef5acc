/** Releases: set, told, asked for; and the knife that is sold as a second. */
import { cents } from './amounts.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { postageOf } from './postage.ts';
import { models } from './tables/models.ts';
import {
  type DemoClaim,
  type DemoRelease,
  flaws,
  holdMinutes,
  releases,
  windowTime,
  wordsOf,
} from './tables/releases.ts';
import { newPricesFrom } from './tables/setting.ts';
import { supporterLevel } from './tables/supporters.ts';

/** A local day and time as the instant it is where the workshop stands. */
const instantAt = (day: string, time: string): string => new Date(`${day}T${time}:00`).toISOString();

function knifeOf(ledger: Ledger, { serial, variant, price }: DemoRelease['knives'][number], on: string) {
  const list = on >= newPricesFrom ? models[variant].priceLater : models[variant].price;
  const asked = price ?? list;
  if (asked === null) throw new Error(`${serial} has no price to be shown at`);
  const priceMinor = cents(asked);
  return {
    buildId: idOf(ledger, serial),
    priceMinor,
    shippingMinor: postageOf(variant, priceMinor, false).charged,
    words: wordsOf[variant] ?? '',
  };
}

const claimStep = (claim: DemoClaim): Step => ({
  on: claim.on,
  // Before the sale of the day.
  order: 5.9,
  async run(ledger) {
    await ledger.ask('releases.hold', {
      buildId: idOf(ledger, claim.serial),
      buyerId: ledger.house.buyers[claim.buyer],
      at: instantAt(claim.on, claim.at),
      note: claim.note ?? '',
    });
  },
});

function releaseSteps(release: DemoRelease): readonly Step[] {
  let id = '';
  const { setOn, previewOn, opensOn, closesOn } = release;
  const setting: Step = {
    on: setOn,
    order: 7,
    async run(ledger) {
      const saved = await ledger.ask('releases.save', {
        title: release.title,
        note: release.note,
        rule: 'first',
        leastRank: supporterLevel.rank,
        oneEach: true,
        holdMinutes,
        previewOn,
        earlyFrom: instantAt(opensOn, windowTime),
        earlyUntil: instantAt(closesOn, windowTime),
        knives: release.knives.map((knife) => knifeOf(ledger, knife, setOn)),
      });
      ({ id } = saved);
      await ledger.ask('releases.move', { id, to: 'set', at: instantAt(setOn, '20:00') });
    },
  };
  const telling: Step = {
    on: previewOn,
    order: 7,
    async run({ ask }) {
      await ask('releases.told', { id, at: instantAt(previewOn, '12:00') });
    },
  };
  return [setting, telling, ...release.claims.map(claimStep)];
}

/** A flaw is written down before the knife is sold. */
const flawSteps = (): readonly Step[] =>
  flaws.map(({ on, serial, flaw }) => ({
    on,
    order: 5,
    async run(ledger) {
      const { id, title, method, batch, note } = await ledger.ask('builds.get', { id: idOf(ledger, serial) });
      await ledger.ask('builds.update', { id, serial, title, method, batch, note, flaw });
    },
  }));

/** Both releases and the second. */
export const firstLookSteps = (): readonly Step[] => [...releases.flatMap(releaseSteps), ...flawSteps()];
