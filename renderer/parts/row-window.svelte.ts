/** Which rows of a long list are drawn: those in sight and a few around them. */
import { createVirtualizer } from '@tanstack/svelte-virtual';
import { untrack } from 'svelte';
import type { SvelteVirtualizer } from '@tanstack/svelte-virtual';

/** Lists up to this length are drawn whole. */
const wholeUpTo = 200;
const rowHeight = 45;

type Rows = SvelteVirtualizer<HTMLElement, HTMLTableRowElement>;

/** Call while the component is being set up. */
export class RowWindow {
  #tick = $state(0);
  #rows: Rows | undefined;
  readonly #count: () => number;

  constructor(count: () => number, scroller: () => HTMLElement | undefined) {
    this.#count = count;
    const store = createVirtualizer<HTMLElement, HTMLTableRowElement>({
      count: 0,
      getScrollElement: () => scroller() ?? null,
      estimateSize: () => rowHeight,
      overscan: 12,
      initialRect: { width: 800, height: 800 },
    });
    $effect(() =>
      store.subscribe((rows) => {
        this.#rows = rows;
        untrack(() => (this.#tick += 1));
      }),
    );
    $effect(() => {
      if (scroller() === undefined) return;
      this.#rows?.setOptions({ count: count() > wholeUpTo ? count() : 0 });
    });
  }

  get #drawn(): { readonly from: number; readonly to: number } {
    const count = this.#count();
    // Read so that scrolling draws anew.
    const items = this.#tick > 0 && count > wholeUpTo ? (this.#rows?.getVirtualItems() ?? []) : [];
    const first = items[0];
    const last = items.at(-1);
    if (count <= wholeUpTo) return { from: 0, to: count };
    if (first === undefined || last === undefined) return { from: 0, to: Math.min(count, 40) };
    return { from: Math.min(first.index, count), to: Math.min(last.index + 1, count) };
  }

  /** Whether the list is drawn in part. */
  get isLong(): boolean {
    return this.#count() > wholeUpTo;
  }
  get from(): number {
    return this.#drawn.from;
  }
  get to(): number {
    return this.#drawn.to;
  }
  /** Height of the rows above those drawn, in pixels. */
  get before(): number {
    return this.from * rowHeight;
  }
  /** Height of the rows below those drawn, in pixels. */
  get after(): number {
    return (this.#count() - this.to) * rowHeight;
  }
}
