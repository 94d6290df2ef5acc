/** Which rows of a long list are drawn: those in sight and a few around them. */

/** Lists up to this length are drawn whole. */
const wholeUpTo = 200;
/** Height of a row in pixels; long lists keep every row at it. */
const rowHeight = 45;
/** Rows drawn above and below those in sight, so that a turn of the wheel meets them ready. */
const around = 12;
const heightAtFirst = 800;

/** Call while the component is being set up. */
export class RowWindow {
  #top = $state(0);
  #height = $state(heightAtFirst);
  readonly #count: () => number;
  readonly #isLong = $derived.by(() => this.#count() > wholeUpTo);
  readonly #from = $derived.by(() =>
    this.#isLong ? Math.min(this.#count(), Math.max(0, Math.floor(this.#top / rowHeight) - around)) : 0,
  );
  readonly #to = $derived.by(() =>
    this.#isLong
      ? Math.min(this.#count(), Math.ceil((this.#top + this.#height) / rowHeight) + around)
      : this.#count(),
  );

  constructor(count: () => number, scroller: () => HTMLElement | undefined) {
    this.#count = count;
    $effect(() => {
      const box = scroller();
      // A short list is not measured at all: asking for its place would make the browser lay the page out once more.
      if (box === undefined || !this.#isLong) return;
      const look = (): void => {
        this.#top = box.scrollTop;
        this.#height = box.clientHeight;
      };
      const sizes = new ResizeObserver(look);
      sizes.observe(box);
      box.addEventListener('scroll', look, { passive: true });
      return () => {
        sizes.disconnect();
        box.removeEventListener('scroll', look);
      };
    });
  }

  /** Whether the list is drawn in part. */
  get isLong(): boolean {
    return this.#isLong;
  }
  get from(): number {
    return this.#from;
  }
  get to(): number {
    return this.#to;
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
