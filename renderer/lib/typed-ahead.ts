/** What is typed between asking for something to write in and its coming, handed over once it has the focus. */

/** A field that has not come by then will not come; letters act as keys again. */
const patienceMs = 5000;

type Box = HTMLInputElement | HTMLTextAreaElement;

const isBox = (target: EventTarget | null): target is Box =>
  target instanceof HTMLTextAreaElement || target instanceof HTMLInputElement;

class TypedAhead {
  #text = '';
  #timer: number | undefined;

  /** Keeps what is typed from now on, until a field takes it. */
  begin(): void {
    this.#end();
    this.#timer = window.setTimeout(() => this.#end(), patienceMs);
    document.addEventListener('focusin', this.#hand);
  }

  /** Whether the key was kept; a letter that was must do nothing else. */
  keeps(event: KeyboardEvent): boolean {
    if (this.#timer === undefined) return false;
    if (event.key === 'Escape' || isBox(event.target)) {
      this.#end();
      return false;
    }
    if (event.ctrlKey || event.metaKey) return false;
    if (event.key === 'Backspace') this.#text = this.#text.slice(0, -1);
    else if (event.key.length === 1) this.#text += event.key;
    else return false;
    return true;
  }

  readonly #hand = ({ target }: FocusEvent): void => {
    if (!isBox(target)) return;
    const text = this.#text;
    this.#end();
    if (text === '') return;
    target.value += text;
    target.dispatchEvent(new Event('input', { bubbles: true }));
  };

  #end(): void {
    window.clearTimeout(this.#timer);
    document.removeEventListener('focusin', this.#hand);
    this.#timer = undefined;
    this.#text = '';
  }
}

export const typedAhead = new TypedAhead();
