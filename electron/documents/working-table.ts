/** The working behind the figures of a paper, set small after it. */
import { styles, type Paper, type Style } from './paper.ts';
import { columnGap, type TableSpec } from './table.ts';
import type { CostSheetPaper } from './types.ts';

/** All working in one table: which line of the sheet, when, what, how, and the figure before rounding. */
export const workingTable = (paper: Paper, parts: CostSheetPaper['working']): TableSpec => {
  const all = parts.flatMap((part) => part.rows);
  const widest = (texts: readonly string[], style: Style, least: number): number =>
    Math.max(least, ...texts.map((text) => paper.textWidth(text, style)));
  const lines = Math.min(
    96,
    widest(
      parts.map((part) => part.heading),
      styles.smallStrong,
      40,
    ),
  );
  const dates = widest(
    all.map((row) => row.on),
    styles.smallFigure,
    34,
  );
  const exact = widest(
    all.map((row) => row.exact),
    styles.smallFigure,
    34,
  );
  const rest = paper.width - lines - dates - exact - 4 * columnGap;
  return {
    x: paper.left,
    padding: 1.5,
    headStyle: styles.smallQuiet,
    columns: [
      { head: 'Line', width: lines, right: false },
      { head: 'Date', width: dates, right: false },
      { head: 'What', width: rest * 0.42, right: false },
      { head: 'How it was reckoned', width: rest * 0.58, right: false },
      { head: 'Exact', width: exact, right: true },
    ],
    rows: parts.flatMap((part) =>
      part.rows.map((row, at) => ({
        cells: [
          { text: at === 0 ? part.heading : '', style: styles.smallStrong },
          { text: row.on, style: styles.smallFigure },
          { text: row.label, style: styles.small },
          { text: row.how, style: styles.small },
          { text: row.exact, style: styles.smallFigure },
        ],
      })),
    ),
  };
};
