/** Keys that work anywhere on a screen. Single letters can be switched off, and never act while something is being typed. */
import { untrack } from 'svelte';
import { keepUnder, keptUnder } from './kept.ts';
import { typedAhead } from './typed-ahead.ts';

export interface KeyUse {
  /** As pressed: `n`, `?`, `g b`, `mod+k`. */
  readonly keys: string;
  readonly label: string;
  readonly run: () => void;
  /** Brings something to write in, which may take a moment to come: what is typed meanwhile is for it. */
  readonly brings?: 'field' | undefined;
}

const storageName = 'knifewright.letters';
const chordMs = 1500;

const inText = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (target.isContentEditable ||
    ['INPUT', 'TEXTAREA', 'SELECT'].includes(target.tagName) ||
    target.role === 'combobox');

const dialogOpen = (): boolean =>
  document.querySelector('[role="dialog"], [role="alertdialog"], [role="menu"]') !== null;

class Keys {
  list = $state.raw<readonly KeyUse[]>([]);
  /** Whether single letters act. */
  letters = $state(keptUnder(storageName) !== 'off');
  #first = '';
  #firstAt = 0;

  setLetters(on: boolean): void {
    this.letters = on;
    keepUnder(storageName, on ? 'on' : 'off');
  }

  add(use: KeyUse): () => void {
    this.list = [...untrack(() => this.list), use];
    return () => {
      this.list = this.list.filter((other) => other !== use);
    };
  }

  /** Answers a key press of the whole window. */
  handle(event: KeyboardEvent): void {
    const mod = event.ctrlKey || event.metaKey;
    const pressed = mod ? `mod+${event.key.toLowerCase()}` : event.key;
    if (event.altKey || event.defaultPrevented || event.isComposing) return;
    if (typedAhead.keeps(event)) {
      event.preventDefault();
      return;
    }
    if (dialogOpen()) return;
    if (!mod && (!this.letters || inText(event.target))) return;
    const use = this.#find(pressed, event.timeStamp);
    if (use === undefined) return;
    event.preventDefault();
    if (use.brings === 'field') typedAhead.begin();
    use.run();
  }

  #find(pressed: string, at: number): KeyUse | undefined {
    const chord = at - this.#firstAt < chordMs && this.#first !== '' ? `${this.#first} ${pressed}` : pressed;
    this.#first =
      chord === pressed && this.list.some((use) => use.keys.startsWith(`${pressed} `)) ? pressed : '';
    this.#firstAt = at;
    // The newest wins: a screen may take a key over from the shell.
    return this.list.findLast((use) => use.keys === chord);
  }
}

export const keys = new Keys();

/** Gives a key to a screen for as long as it is shown; call it while the component is being set up. */
export const onKey = (pressed: string, label: string, run: () => void, brings?: 'field'): void => {
  $effect(() => keys.add({ keys: pressed, label, run, brings }));
};
