/** What the maker did, day by day, as steps that each ask the workshop once or a few times. */
import type { WorkKind } from '../api/hours.ts';
import { addDays } from '../domain/calendar.ts';
import { allocate } from '../domain/integers.ts';
import { afterSaleSteps } from './after-sale.ts';
import { billetSteps } from './billet.ts';
import { buyingSteps } from './buying.ts';
import { changeSteps } from './changes.ts';
import { decidingSteps } from './deciding.ts';
import { firstLookSteps } from './first-look.ts';
import { knifeSteps } from './knives.ts';
import type { Ledger, Step } from './ledger.ts';
import { moneySteps } from './money.ts';
import { peopleSteps } from './people.ts';
import { orderSteps, type OrderBook } from './orders.ts';
import { sellingSteps } from './selling.ts';
import { otherSpans, otherWork, type OtherSpan } from './tables/other-work.ts';

async function bookOther(ledger: Ledger, kind: WorkKind, on: string, minutes: number): Promise<void> {
  await ledger.ask('hours.book', { on, minutes, stageCode: null, workKind: kind, shares: [] });
}

/** Work that belongs to no knife, every week a share of each kind. */
const spanSteps = ({ monday, weeks, minutesOf }: OtherSpan): readonly Step[] =>
  otherWork.flatMap(({ kind, weekday }) =>
    allocate(
      minutesOf[kind] ?? 0,
      Array.from({ length: weeks }, () => 1),
    ).map((minutes, week): Step => {
      const on = addDays(monday, week * 7 + weekday - 1);
      return { on, order: 2, run: (ledger) => bookOther(ledger, kind, on, minutes) };
    }),
  );

/** Every step up to and including a day, in the order things happened. */
export function stepsThrough(through: string): readonly Step[] {
  const book: OrderBook = { rules: new Map(), ids: new Map() };
  const steps = [
    ...buyingSteps(),
    ...changeSteps(),
    ...decidingSteps(),
    ...peopleSteps(),
    ...knifeSteps(),
    ...billetSteps(),
    ...orderSteps(book),
    ...firstLookSteps(),
    ...sellingSteps(book),
    ...afterSaleSteps(),
    ...moneySteps(),
    ...otherSpans.flatMap(spanSteps),
  ];
  return steps
    .filter((step) => step.on <= through)
    .sort((a, b) => (a.on === b.on ? a.order - b.order : a.on < b.on ? -1 : 1));
}
