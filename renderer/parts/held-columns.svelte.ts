/**
 * Columns of a long list keep the widths they were found at: what changes in a row then moves no other row, and a cell
 * need not be asked how wide it would like to be.
 */
import { tick, untrack } from 'svelte';
import { follow } from '../lib/follow.ts';

/** So long after the last change the columns fit themselves to what the list then holds. */
const heldMs = 500;
/** A list just drawn is measured once the screen stands. */
const firstMs = 60;

/** What the columns belong to; read reactively. */
export interface HeldList {
  readonly rows: () => readonly unknown[];
  /** The columns; other columns are not held by the widths of these. */
  readonly columns: () => readonly unknown[];
  readonly isLong: () => boolean;
  readonly table: () => HTMLTableElement | undefined;
}

interface Held {
  readonly columns: readonly unknown[];
  readonly widths: readonly number[];
}

/** Call while the component is being set up. */
export class HeldColumns {
  #held = $state.raw<Held>();
  #room = $state.raw(0);
  readonly #list: HeldList;
  readonly #isHeld = $derived.by(
    () => this.#held !== undefined && this.#held.columns === this.#list.columns(),
  );

  constructor(list: HeldList) {
    this.#list = list;
    $effect(() => {
      const table = list.table();
      if (table === undefined || !list.isLong()) return;
      follow(list.columns(), this.#room);
      // The widths of empty headings are those of nothing.
      if (list.rows().length === 0) return;
      const timer = setTimeout(() => void this.#fit(table), untrack(() => this.#isHeld) ? heldMs : firstMs);
      return () => clearTimeout(timer);
    });
    $effect(() => {
      const box = list.table()?.parentElement;
      if (!box || !list.isLong()) return;
      const sizes = new ResizeObserver(() => {
        // Held widths are those of the room there was.
        if (box.clientWidth === this.#room) return;
        this.#held = undefined;
        this.#room = box.clientWidth;
      });
      sizes.observe(box);
      return () => sizes.disconnect();
    });
  }

  /** Lets the columns find their widths and holds them, between two paints. */
  async #fit(table: HTMLTableElement): Promise<void> {
    this.#held = undefined;
    await tick();
    const widths = [...table.querySelectorAll<HTMLElement>('thead th')].map((head) => head.offsetWidth);
    this.#held = { columns: this.#list.columns(), widths };
  }

  get isHeld(): boolean {
    return this.#isHeld;
  }
  /** Width of a column for as long as it is held, as CSS reads it. */
  width(at: number): string | undefined {
    const width = this.#isHeld ? this.#held?.widths[at] : undefined;
    // A column left out for want of room has none.
    return width === undefined || width === 0 ? undefined : `${String(width)}px`;
  }
}
