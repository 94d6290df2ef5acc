/** What the maker told for the preparer's sheet of 2025. */
import type { Ask } from './desk.ts';
import { cents } from './amounts.ts';

/** The form of the short first year is with the preparer; its closing stock is what the next one begins with. */
export async function tellPreparer(ask: Ask): Promise<void> {
  await ask('preparer.answer', {
    ...{ from: '2025-01-01', to: '2025-12-31', formId: 'us-c', view: 'cash', valuedAt: 'cost' },
    methodChanged: false,
    lastClosingMinor: cents('750.04'),
    note: 'For Pell Oakhanger. Two deposits of the year end are for knives of the next one.',
  });
}
