/** Answers of calculations that a person's input can make impossible. */

/** A value, or one plain sentence that says what is wrong and what to do about it. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | Refusal;

/** The refused half of an `Outcome`. */
export interface Refusal {
  readonly ok: false;
  /** Ready for a screen. */
  readonly message: string;
}

/** Wraps a good value. */
export const ok = <T>(value: T): { readonly ok: true; readonly value: T } => ({ ok: true, value });

/** Wraps a sentence for a person. */
export const refuse = (message: string): Refusal => ({ ok: false, message });
