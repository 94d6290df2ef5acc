/** Forms: what was typed stays on a fault, the fault goes to its field, and the first wrong field is focused. */
import { createContext, tick, untrack } from 'svelte';
import { SvelteSet } from 'svelte/reactivity';
import type { EndpointName, Endpoints, Input, Output } from '../../electron/api/contract.ts';
import type { Fault } from '../../electron/api/errors.ts';
import { Changes } from './changes.ts';
import { faultOf } from './live.svelte.ts';
import { shop } from './shop.svelte.ts';
import { toasts } from './toasts.svelte.ts';

/** Names of the endpoints that change something. */
export type CommandName = {
  [N in EndpointName]: Endpoints[N]['kind'] extends 'command' ? N : never;
}[EndpointName];

const changedElsewhere =
  'This was changed in another tab while you were writing. Save again to put yours in its place, or close this and open it anew to see the change first.';

/** Stands in for a number that has not been written; the contract answers with the sentence for its field. */
export const missingNumber = Number.NaN;

export class Form {
  /** What is wrong with the form as a whole. */
  fault = $state.raw<Fault>();
  busy = $state(false);
  element = $state.raw<HTMLFormElement>();
  /** What was written and not sent yet. */
  readonly changes = new Changes();
  readonly #errors = $state<Record<string, string>>({});
  readonly #fields = new SvelteSet<string>();
  #kept: (() => unknown) | undefined;
  /** What the entry was then; nothing right after it was saved from here. */
  #began: string | undefined;
  #saying = changedElsewhere;

  /** Makes a field known by its dotted path; answers how to take it off again. */
  register(name: string): () => void {
    untrack(() => this.#fields.add(name));
    return () => {
      this.#fields.delete(name);
      this.clear(name);
    };
  }

  error(name: string): string | undefined {
    return this.#errors[name];
  }

  clear(name: string): void {
    // eslint-disable-next-line @typescript-eslint/no-dynamic-delete -- field paths are only known at run time
    delete this.#errors[name];
  }

  clearAll(): void {
    this.fault = undefined;
    // Untracked: an effect that clears the form must not run again at the next fault or the next key typed.
    for (const name of untrack(() => Object.keys(this.#errors))) this.clear(name);
  }

  /** Puts a fault where it belongs. */
  async take(fault: Fault): Promise<void> {
    const name = this.#fieldFor(fault.field);
    if (name === undefined) this.fault = fault;
    else this.#errors[name] = fault.message;
    if (fault.kind === 'invalid') this.#markEmpty();
    await tick();
    const wrong = this.element?.querySelector<HTMLElement>(
      '[aria-invalid="true"], [data-wrong], [role="alert"][tabindex]',
    );
    wrong?.focus();
  }

  /** Fields that hold a text nobody could read, or half a day. */
  #unread(): readonly HTMLInputElement[] {
    const inputs = this.element?.querySelectorAll<HTMLInputElement>('input:not(:disabled)') ?? [];
    return [...inputs].filter((input) => 'unread' in input.dataset || input.validity.badInput);
  }

  /**
   * True where a field holds what nobody could read, which is then said beside it. Such a field has no value: one that
   * may stay empty would be sent as if nothing had been written.
   */
  stopsAtUnread(): boolean {
    const unread = this.#unread();
    const [first] = unread;
    if (first === undefined) return false;
    // What was said of the whole form was said of something else that stood there.
    this.fault = undefined;
    for (const input of unread) {
      const name = input.closest<HTMLElement>('[data-field]')?.dataset['field'] ?? '';
      if (input.validity.badInput && name !== '')
        this.#errors[name] = 'Write the whole day, or empty the field.';
      // What reads a text says so once it is left.
      else input.dispatchEvent(new FocusEvent('blur'));
    }
    const fold = first.closest('details');
    if (fold !== null) fold.open = true;
    void tick().then(() => {
      first.focus();
    });
    return true;
  }

  /**
   * Watches over the entry this form changes, so that a second form on it is not written over unseen.
   * Call it whenever the form is filled in. @param kept what the form would be filled in with now; nothing for a new entry
   * @param saying the sentence shown once
   */
  changing(kept: (() => unknown) | undefined, saying = changedElsewhere): void {
    this.#kept = kept;
    this.#saying = saying;
    this.#began = JSON.stringify([kept?.()]);
  }

  /** True, and said once, where the entry was changed elsewhere since the form was filled in. */
  #stopsAtOther(): boolean {
    const now = JSON.stringify([this.#kept?.()]);
    const before = this.#began ?? now;
    // Seen and sent again, it is meant.
    this.#began = now;
    if (now === before) return false;
    void this.take({ kind: 'refused', message: this.#saying });
    return true;
  }

  /** Sends a command. Answers its value, or undefined when a fault has been shown. */
  async send<N extends CommandName>(name: N, input: Input<N>, said?: string): Promise<Output<N> | undefined> {
    if (this.busy || shop.stopsAtHeld() || this.stopsAtUnread()) return undefined;
    this.clearAll();
    if (this.#stopsAtOther()) return undefined;
    this.busy = true;
    try {
      const value = await shop.call(name, input);
      this.changes.forget();
      this.#began = undefined;
      if (said !== undefined) toasts.say(said);
      return value;
    } catch (thrown) {
      await this.take(faultOf(thrown));
      return undefined;
    } finally {
      this.busy = false;
    }
  }

  /** The contract names one field at a time; the ones left empty are all shown at once. */
  #markEmpty(): void {
    const needed = this.element?.querySelectorAll<HTMLElement>('[data-field] [aria-required="true"]') ?? [];
    for (const control of needed) {
      const name = control.closest<HTMLElement>('[data-field]')?.dataset['field'] ?? '';
      if (!('value' in control) || control.value !== '' || !this.#fields.has(name)) continue;
      this.#errors[name] ??= control instanceof HTMLSelectElement ? 'Choose one.' : 'This cannot be empty.';
    }
  }

  /** The named field, or the nearest one above it (`lines.2.qty`, then `lines.2`). */
  #fieldFor(path: string | undefined): string | undefined {
    let name = path ?? '';
    while (name !== '' && !this.#fields.has(name)) name = name.split('.').slice(0, -1).join('.');
    return name === '' ? undefined : name;
  }
}

/**
 * Fills in a dialog's form each time it opens, and only then: what is typed stays when the books change meanwhile.
 * Call it while the component is being set up.
 */
export const onOpen = (isOpen: () => boolean, begin: () => void): void => {
  $effect(() => {
    if (isOpen()) untrack(begin);
  });
};

export const [formOf, setForm, hasForm] = createContext<Form>();

/** Sends a command outside a form. Answers its value, or undefined after the fault was shown as a message. */
export const act = async <N extends CommandName>(
  name: N,
  input: Input<N>,
  said?: { readonly text: string; readonly undo?: () => void },
): Promise<Output<N> | undefined> => {
  if (shop.stopsAtHeld()) return undefined;
  try {
    const value = await shop.call(name, input);
    toasts.settle(name);
    if (said !== undefined) toasts.say(said.text, said.undo);
    return value;
  } catch (thrown) {
    toasts.fault(faultOf(thrown), name);
    return undefined;
  }
};
