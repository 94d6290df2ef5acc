/** What a person has written into the controls of one form and not taken back again. */

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** The control an event comes from, if it is one that can be filled in. */
export const controlOf = (target: EventTarget | null): Control | undefined =>
  target instanceof HTMLInputElement ||
  target instanceof HTMLSelectElement ||
  target instanceof HTMLTextAreaElement
    ? target
    : undefined;

const contentOf = (control: Control): string =>
  control instanceof HTMLInputElement && (control.type === 'checkbox' || control.type === 'radio')
    ? String(control.checked)
    : control.value;

export class Changes {
  /** What stood in a control when the person came to it; the form itself may fill others in meanwhile. */
  readonly #before = new Map<Control, string>();
  readonly #written = new Set<Control>();
  #chosen = false;

  /** Notes what stands in a control before anything is written over it. */
  meet(control: Control): void {
    if (!this.#before.has(control)) this.#before.set(control, contentOf(control));
  }

  /** Notes that the person has written into a control. */
  write(control: Control): void {
    this.#written.add(control);
  }

  /** Notes a choice that was made without writing, such as one from a list. */
  choose(): void {
    this.#chosen = true;
  }

  /** True when something stands there now that did not before. A line that was written and dropped counts. */
  get any(): boolean {
    return this.#chosen || [...this.#written].some((one) => this.#before.get(one) !== contentOf(one));
  }

  /** Begins anew: it was sent, or thrown away on purpose. */
  forget(): void {
    this.#before.clear();
    this.#written.clear();
    this.#chosen = false;
  }
}
