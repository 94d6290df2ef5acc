/** What every field of a form takes. */
import type { Snippet } from 'svelte';

export interface FieldProps {
  label: string;
  /** Dotted path of the input in its command; faults of the contract find the field by it. */
  name?: string;
  hint?: string | undefined;
  required?: boolean;
  /** Keeps the label for screen readers only, where a table heading says it. */
  hideLabel?: boolean;
  disabled?: boolean;
}

/** What a field hands to the control inside it. */
export interface ControlProps {
  readonly id: string;
  readonly 'aria-describedby': string | undefined;
  readonly 'aria-invalid': 'true' | undefined;
  readonly 'aria-required': 'true' | undefined;
}

export interface FieldShellProps extends FieldProps {
  /** What is wrong with what is typed, found on the screen itself. */
  problem?: string | undefined;
  /** What was understood, e.g. "= 7 3/4 in". */
  understood?: string | undefined;
  children: Snippet<[ControlProps]>;
}
