/** The forms on the screen: what was written into them is not thrown away without asking. */
import type { Changes } from './changes.ts';
import { controlOf } from './changes.ts';

interface Watched {
  readonly element: Element;
  readonly changes: Changes;
}

class Unsaved {
  /** Set while the person is being asked. */
  asking = $state(false);
  readonly #forms = new Set<Watched>();
  #answer: ((throwAway: boolean) => void) | undefined;

  /** Watches what is written inside an element; answers how to stop. */
  watch(element: HTMLElement, changes: Changes): () => void {
    const watched = { element, changes };
    this.#forms.add(watched);
    changes.forget();
    const meet = (event: Event): void => {
      const control = controlOf(event.target);
      if (control !== undefined) changes.meet(control);
    };
    const write = (event: Event): void => {
      const control = controlOf(event.target);
      if (control !== undefined) changes.write(control);
    };
    // Pointer first: some browsers tick a box without giving it the focus.
    for (const name of ['focusin', 'pointerdown']) element.addEventListener(name, meet, true);
    for (const name of ['input', 'change']) element.addEventListener(name, write, true);
    return () => {
      this.#forms.delete(watched);
      for (const name of ['focusin', 'pointerdown']) element.removeEventListener(name, meet, true);
      for (const name of ['input', 'change']) element.removeEventListener(name, write, true);
    };
  }

  #written(within: Element): readonly Watched[] {
    return [...this.#forms].filter((form) => within.contains(form.element) && form.changes.any);
  }

  /** True when a form inside holds something that was not sent. */
  any(within: Element = document.documentElement): boolean {
    return this.#written(within).length > 0;
  }

  /** Asks whether what was written inside may go. @returns true when it may; it is forgotten then */
  async mayGo(within: Element = document.documentElement): Promise<boolean> {
    if (!this.any(within)) return true;
    if (this.#answer !== undefined) return false;
    this.asking = true;
    const throwAway = await new Promise<boolean>((resolve) => (this.#answer = resolve));
    this.#answer = undefined;
    this.asking = false;
    if (throwAway) for (const form of this.#written(within)) form.changes.forget();
    return throwAway;
  }

  /** Throws away whatever was written anywhere on the page. */
  forget(): void {
    for (const form of this.#forms) form.changes.forget();
  }

  /** The person's answer to the question. */
  answer(throwAway: boolean): void {
    this.#answer?.(throwAway);
  }
}

export const unsaved = new Unsaved();
