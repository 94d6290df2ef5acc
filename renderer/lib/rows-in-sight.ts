/** How many rows of a long list a window can show at once, known before anything has been laid out. */

/** Height of a row in pixels; long lists keep every row at it. */
export const rowHeight = 45;

/** What stands above and below a list, and the least height of one: as the list's own style has it. */
const around = 272;
const least = 352;
const heightUnknown = 800;

/** Height of a long list in pixels, its headings included. */
export const listHeight = (): number =>
  Math.max(least, (typeof innerHeight === 'number' ? innerHeight : heightUnknown) - around);

/** As many rows as can be in sight at once. */
export const rowsInSight = (): number => Math.ceil(listHeight() / rowHeight);
