/** Errors as plain values: the only form in which a failure crosses the contract. */

/** What kind of thing went wrong, so that a screen can choose how to show it. */
export type FaultKind =
  /** The input is wrong; `field` names where. */
  | 'invalid'
  /** The thing named does not exist (any more). */
  | 'missing'
  /** The books do not allow it in their present state. */
  | 'refused'
  /** The disk, the file or another program is in the way. */
  | 'storage'
  /** The caller may not do this. */
  | 'forbidden'
  /** A mistake of ours. */
  | 'internal';

export interface Fault {
  readonly kind: FaultKind;
  /** One or two plain sentences: what is wrong and what to do about it. */
  readonly message: string;
  /** Dotted path of the input field, e.g. `lines.2.qty`. */
  readonly field?: string;
}

/** Thrown inside the core; turned into a `Fault` at the contract. */
export class FaultError extends Error {
  readonly fault: Fault;
  constructor(fault: Fault) {
    super(fault.message);
    this.name = 'FaultError';
    this.fault = fault;
  }
}

/** Builds the error for bad input. @param field dotted path of the offending input */
export const invalid = (message: string, field?: string): FaultError =>
  new FaultError(field === undefined ? { kind: 'invalid', message } : { kind: 'invalid', message, field });

/** Builds the error for something the books do not allow now. */
export const refused = (message: string, field?: string): FaultError =>
  new FaultError(field === undefined ? { kind: 'refused', message } : { kind: 'refused', message, field });

/** Builds the error for something that is not there. */
export const missing = (message: string): FaultError => new FaultError({ kind: 'missing', message });

/** What every call answers: a value with the books' journal position, or a fault. */
export type Reply<T = unknown> =
  | { readonly ok: true; readonly value: T; readonly seq: number }
  | { readonly ok: false; readonly fault: Fault };
