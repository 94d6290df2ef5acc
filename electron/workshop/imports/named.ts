/** Finds things of the books by the name a file gives them. */

/** Exactly so written first, else whatever the case. */
export class NameIndex<T> {
  readonly #exact = new Map<string, T>();
  readonly #loose = new Map<string, T[]>();

  constructor(things: readonly T[], nameOf: (thing: T) => string) {
    for (const thing of things) this.add(nameOf(thing), thing);
  }

  add(name: string, thing: T): void {
    this.#exact.set(name, thing);
    const key = name.trim().toLowerCase();
    this.#loose.set(key, [...(this.#loose.get(key) ?? []), thing]);
  }

  /** Everything the name may mean. */
  find(name: string): readonly T[] {
    const exact = this.#exact.get(name);
    const loose = this.#loose.get(name.trim().toLowerCase()) ?? [];
    return exact !== undefined && loose.length === 1 ? [exact] : loose;
  }

  first(name: string): T | undefined {
    return this.#exact.get(name) ?? this.find(name)[0];
  }
}
