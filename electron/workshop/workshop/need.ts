/** The workshop's details as use-cases need them. */
import { refused } from '../../api/errors.ts';
import type { Workshop } from '../../api/workshop.ts';
import type { ReadDb } from '../../storage/db.ts';
import { workshopRow } from '../../storage/queries/workshop.ts';

/** The workshop's details, or null before it is set up. */
export function readWorkshop(db: ReadDb): Workshop | null {
  const row = workshopRow(db);
  if (row === undefined) return null;
  return {
    name: row.name,
    maker: row.maker,
    address: row.address,
    city: row.city,
    region: row.region,
    postcode: row.postcode,
    country: row.country,
    email: row.email,
    phone: row.phone,
    website: row.website,
    taxNumber: row.tax_number,
    registerNumber: row.register_number,
    currency: row.currency,
    lengthHabit: row.length_habit as Workshop['lengthHabit'],
    weightHabit: row.weight_habit as Workshop['weightHabit'],
    paper: row.paper as Workshop['paper'],
    homeTaxPlaceId: row.home_tax_place_id,
    invoicePattern: row.invoice_pattern,
    invoiceTermsDays: row.invoice_terms_days,
    invoiceNote: row.invoice_note,
  };
}

/** The workshop's details. @throws FaultError `refused` before it is set up */
export function needWorkshop(db: ReadDb): Workshop {
  const workshop = readWorkshop(db);
  if (workshop === null) throw refused('Set up the workshop first.');
  return workshop;
}
