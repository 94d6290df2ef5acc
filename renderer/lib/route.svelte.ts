/** Where the person is: `#/stock/lots/ID`, with the browser's own back and forward. */

import { unsaved } from './unsaved.svelte.ts';

/** Position of an entry in the browser's history, as this page has counted; nothing for one that is new. */
const placeOf = (state: unknown): number | undefined =>
  typeof state === 'object' && state !== null && 'at' in state && typeof state.at === 'number'
    ? state.at
    : undefined;

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
  /** Set when the next address takes the place of the present one. */
  instead = false;
  #at = 0;

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
    this.#count(0);
    window.addEventListener('hashchange', () => void this.#turn());
  }

  #count(at: number): void {
    this.#at = at;
    history.replaceState({ at }, '');
  }

  /** Follows the address, unless something is half-written here and the person would rather stay. */
  async #turn(): Promise<void> {
    const came = placeOf(history.state);
    const replaced = this.instead;
    this.instead = false;
    const parts = read();
    const same = parts.join('/') === this.path;
    if (!same && unsaved.any() && !(await unsaved.mayGo())) {
      this.#goBack(came, replaced);
      return;
    }
    this.#count(came ?? (replaced ? this.#at : this.#at + 1));
    if (same) return;
    this.moved = true;
    this.#parts = parts;
  }

  /** Puts the address of the screen that stays back, and leaves the browser's history as it was. */
  #goBack(came: number | undefined, replaced: boolean): void {
    if (replaced) history.replaceState({ at: this.#at }, '', to(...this.#parts));
    else history.go(came === undefined ? -1 : this.#at - came);
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
  route.instead = to(...parts) !== location.hash;
  location.replace(to(...parts));
};
