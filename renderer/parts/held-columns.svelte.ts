/** Columns of a long list keep their widths while it is being narrowed: what changes in a row then moves no other row. */
import { untrack } from 'svelte';
import { follow } from '../lib/follow.ts';

/** So long after the last change the columns fit themselves to what the list then holds. */
const heldMs = 500;

/** What the columns belong to; read reactively. */
export interface HeldList {
  readonly rows: () => readonly unknown[];
  readonly isLong: () => boolean;
  readonly table: () => HTMLTableElement | undefined;
}

/** Call while the component is being set up. */
export class HeldColumns {
  #widths = $state.raw<readonly number[]>([]);
  /** Nothing is held of a list that has held nothing yet: its columns are those of empty headings. */
  #hadRows = false;

  constructor({ rows, isLong, table }: HeldList) {
    // Before the rows are drawn, while the widths are still those the person looks at.
    $effect.pre(() => {
      if (!isLong()) return;
      follow(rows());
      const drawn = untrack(table);
      if (drawn === undefined || !this.#hadRows) {
        this.#hadRows = rows().length > 0;
        return;
      }
      untrack(() => {
        if (this.#widths.length > 0) return;
        this.#widths = [...drawn.querySelectorAll<HTMLElement>('thead th')].map((head) => head.offsetWidth);
      });
      const timer = setTimeout(() => (this.#widths = []), heldMs);
      return () => clearTimeout(timer);
    });
  }

  get isHeld(): boolean {
    return this.#widths.length > 0;
  }
  /** Width of a column for as long as it is held, as CSS reads it. */
  width(at: number): string | undefined {
    const width = this.#widths[at];
    // A column left out for want of room has none.
    return width === undefined || width === 0 ? undefined : `${String(width)}px`;
  }
}
