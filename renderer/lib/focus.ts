import { tick } from 'svelte';

/** Goes to the first field of the given child of a list, once it is drawn. */
export const focusField = async (list: Element | undefined, at: number): Promise<void> => {
  await tick();
  list?.children[at]?.querySelector<HTMLElement>('input, select, textarea')?.focus();
};

/** After a line was dropped: goes to the one that took its place, or to the button that adds one. */
export const focusAfterDrop = async (list: Element | undefined, at: number): Promise<void> => {
  await tick();
  const lines = list?.children ?? [];
  const next = lines[Math.min(at, lines.length - 1)] ?? list?.nextElementSibling;
  next?.querySelector<HTMLElement>('input, select, textarea, button')?.focus();
};
