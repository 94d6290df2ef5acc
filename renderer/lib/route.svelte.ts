/** Where the person is: `#/stock/lots/ID`, with the browser's own back and forward. */

const read = (): readonly string[] =>
  location.hash
    .replace(/^#\/?/, '')
    .split('/')
    .filter((part) => part !== '')
    .map((part) => {
      try {
        return decodeURIComponent(part);
      } catch {
        return part;
      }
    });

class Route {
  #parts = $state.raw<readonly string[]>([]);
  /** Set when the person has moved, so that the next page takes the focus to its heading. */
  moved = false;

  get area(): string {
    return this.#parts[0] ?? '';
  }
  /** What follows the area. */
  get rest(): readonly string[] {
    return this.#parts.slice(1);
  }
  /** The whole path as one text. */
  get path(): string {
    return this.#parts.join('/');
  }

  /** Begins to follow the address. */
  start(): void {
    this.#parts = read();
    window.addEventListener('hashchange', () => {
      const parts = read();
      if (parts.join('/') === this.path) return;
      this.moved = true;
      this.#parts = parts;
    });
  }
}

export const route = new Route();

/** The address of a screen, e.g. `to('stock', 'lots', id)`. */
export const to = (...parts: readonly string[]): string => `#/${parts.map(encodeURIComponent).join('/')}`;

/** Goes to a screen. */
export const go = (...parts: readonly string[]): void => {
  location.hash = to(...parts);
};

/** Replaces the present screen, so that "back" does not return to it. */
export const goInstead = (...parts: readonly string[]): void => {
  location.replace(to(...parts));
};
