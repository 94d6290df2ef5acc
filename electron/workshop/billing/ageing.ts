/** What buyers owed at the end of a day, by how long it was due. */
import type { Ageing, OwedRow } from '../../api/billing.ts';
import { AGE_BANDS, ageBand, daysLate } from '../../domain/ageing.ts';
import { sumOf } from '../../domain/integers.ts';
import { type OwedRecord, owedOn } from '../../storage/queries/billing.ts';
import type { QueryContext } from '../context.ts';
import { wordsFor } from '../paper-words/index.ts';
import { toKind } from '../selling/invoice-rows.ts';

function toOwed(record: OwedRecord, on: string): OwedRow {
  const late = daysLate(record.due_on, on);
  return {
    invoiceId: record.id,
    number: record.number,
    kind: toKind(record.kind),
    buyerId: record.buyer_id,
    buyerName: record.buyer_name,
    issuedOn: record.issued_on,
    dueOn: record.due_on,
    openMinor: record.open_minor,
    daysLate: late,
    band: ageBand(late),
    reminders: record.reminders,
  };
}

/** @param on local day, at whose end it is looked */
export function ageingOn(ctx: Pick<QueryContext, 'db'>, on: string): Ageing {
  const { bands } = wordsFor('en').ageing;
  const all = owedOn(ctx.db, on).map((record) => toOwed(record, on));
  const rows = all.filter((row) => row.openMinor > 0);
  const toGiveBack = all.filter((row) => row.openMinor < 0);
  return {
    on,
    bands: AGE_BANDS.map((band) => {
      const inBand = rows.filter((row) => row.band === band);
      return {
        band,
        label: bands[band],
        count: inBand.length,
        openMinor: sumOf(inBand, (row) => row.openMinor),
      };
    }),
    rows,
    owedMinor: sumOf(rows, (row) => row.openMinor),
    toGiveBack,
    toGiveBackMinor: -sumOf(toGiveBack, (row) => row.openMinor),
  };
}
