/** Which rows of a long list are drawn: those in sight, and some around them once a hand is on the list. */
import { untrack } from 'svelte';
import { follow } from '../lib/follow.ts';
import { listHeight, rowHeight, rowsInSight } from '../lib/rows-in-sight.ts';

/** Lists up to this length are drawn whole. */
const wholeUpTo = 200;
/** Rows drawn above and below those in sight once a hand is on the list, so that a turn of the wheel meets them ready. */
const around = 12;
/** None of them when the list has changed: who types waits for no row out of sight, coming or going. */
const aroundAtOnce = 0;
/** What tells that somebody is about to move through the list. */
const handSigns = ['pointermove', 'pointerdown', 'wheel', 'focusin'] as const;

/** What the window looks at; read reactively. */
export interface Watched<Row> {
  /** The rows in the order they are shown. */
  readonly rows: () => readonly Row[];
  /** How many there are in the books, when that is more. */
  readonly total: () => number;
  readonly scroller: () => HTMLElement | undefined;
  /** Whether the rows of a long list are put into lines that stay, instead of being drawn anew. */
  readonly exchanges: () => boolean;
}

/** A drawn line, and the row that stands in it. */
interface Line<Row> {
  readonly id: number;
  readonly row: Row;
}

/** Call while the component is being set up. */
export class RowWindow<Row> {
  #top = $state(0);
  #height = $state(listHeight());
  #around = $state(aroundAtOnce);
  #wasLong = false;
  readonly #count = $derived.by(() => this.#watched.rows().length);
  /** A list that was long once stays one: it must not change its looks while it is being narrowed. */
  readonly #isLong = $derived.by(() => {
    this.#wasLong ||= Math.max(this.#count, this.#watched.total()) > wholeUpTo;
    return this.#wasLong;
  });
  readonly #fills = $derived.by(() => {
    // Whoever makes the window higher or lower changes what fills it.
    follow(this.#height);
    return this.#isLong && this.#count * rowHeight > listHeight();
  });
  /** What can be seen of the rows; a list that fills its room again after it was short has all of it at once. */
  readonly #room = $derived.by(() => (this.#fills ? Math.max(this.#height, listHeight()) : this.#height));
  /** A list that has become shorter than where it was scrolled to is seen from its end. */
  readonly #seenFrom = $derived.by(() =>
    Math.max(0, Math.min(this.#top, this.#count * rowHeight - this.#room)),
  );
  readonly #from = $derived.by(() =>
    this.#isLong ? Math.max(0, Math.floor(this.#seenFrom / rowHeight) - this.#around) : 0,
  );
  readonly #to = $derived.by(() =>
    this.#isLong
      ? Math.min(this.#count, Math.ceil((this.#seenFrom + this.#room) / rowHeight) + this.#around)
      : this.#count,
  );
  #before: readonly Line<Row>[] = [];
  /** Lines of rows, and behind them hidden ones of a list that was longer: they need not be made anew then. */
  readonly #lines = $derived.by(() => {
    const { rows, exchanges } = this.#watched;
    // As many lines as there are at the most; a height that changes must not count them anew.
    const most = rowsInSight() + 1 + 2 * around;
    const shown = rows()
      .slice(this.#from, this.#to)
      .map((row, at): Line<Row> => ({ id: (this.#from + at) % most, row }));
    const ids = shown.map(({ id }) => id);
    const missing = this.#isLong && exchanges() ? Math.max(0, rowsInSight() - shown.length) : 0;
    const spare = this.#before.filter(({ id }) => !ids.includes(id)).slice(0, missing);
    this.#before = [...shown, ...spare];
    return { shown: shown.length, all: this.#before };
  });
  readonly #watched: Watched<Row>;

  constructor(watched: Watched<Row>) {
    this.#watched = watched;
    // Before the rows are drawn.
    $effect.pre(() => {
      if (!this.#isLong) return;
      follow(watched.rows());
      untrack(() => (this.#around = aroundAtOnce));
    });
    $effect(() => {
      const box = watched.scroller();
      // A short list is not measured at all: asking for its place would make the browser lay the page out once more.
      if (box === undefined || !this.#isLong) return;
      const look = (): void => {
        this.#top = box.scrollTop;
        this.#height = box.clientHeight;
      };
      const ready = (): void => {
        this.#around = around;
      };
      const scrolled = (): void => {
        look();
        ready();
      };
      const sizes = new ResizeObserver(look);
      sizes.observe(box);
      box.addEventListener('scroll', scrolled, { passive: true });
      for (const sign of handSigns) box.addEventListener(sign, ready, { passive: true });
      return () => {
        sizes.disconnect();
        box.removeEventListener('scroll', scrolled);
        for (const sign of handSigns) box.removeEventListener(sign, ready);
      };
    });
  }

  /** Whether the list is drawn in part. */
  get isLong(): boolean {
    return this.#isLong;
  }
  /** Whether there are more rows than the list has room for, so that its height hangs on none of them. */
  get fills(): boolean {
    return this.#fills;
  }
  get from(): number {
    return this.#from;
  }
  /** The rows that are drawn, and behind them what stands in hidden lines. */
  get rows(): readonly Row[] {
    return this.#lines.all.map(({ row }) => row);
  }
  /** Whether a drawn line is to be seen. */
  isShown(at: number): boolean {
    return at < this.#lines.shown;
  }
  /**
   * The drawn line a row of the list is put into: rows that come into sight take over the lines of those that leave it,
   * and one that stays in sight keeps its own.
   */
  lineOf(at: number): number {
    return this.#lines.all[at]?.id ?? at;
  }
  /** Height of the rows above those drawn, in pixels. */
  get before(): number {
    return this.#from * rowHeight;
  }
  /** Height of the rows below those drawn, in pixels. */
  get after(): number {
    return (this.#count - this.#to) * rowHeight;
  }
}
