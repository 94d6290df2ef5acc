/** Keeps the keyboard's place: when what has the focus is taken off the screen or switched off, what stands nearest takes it over. */

const reachable =
  'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea:not(:disabled), [tabindex="0"]';
/** Long enough for a dialog or a new screen to place the focus itself. */
const patienceMs = 80;

const covered = (): boolean => document.querySelector('[role="dialog"], [role="alertdialog"]') !== null;

const visible = (element: HTMLElement): boolean => element.getClientRects().length > 0;

const nearest = (lost: readonly Element[]): HTMLElement | null => {
  for (const one of lost) {
    if (!one.isConnected) continue;
    if (one.tagName === 'MAIN' || one.tagName === 'BODY') break;
    const found = [...one.querySelectorAll<HTMLElement>(reachable)].find(visible);
    if (found !== undefined) return found;
  }
  return document.querySelector<HTMLElement>('main h1');
};

/** Taken off the screen, or switched off: either way the keyboard cannot stand there any more. */
const isLost = (one: Element): boolean => !one.isConnected || one.matches(':disabled');

/** Begins to watch; answers how to stop. */
export const keepFocus = (): (() => void) => {
  let last: Element | undefined;
  let above: readonly Element[] = [];
  let timer = 0;

  const remember = (event: FocusEvent): void => {
    if (!(event.target instanceof Element) || event.target === document.body) return;
    last = event.target;
    const chain: Element[] = [];
    for (let one = last.parentElement; one !== null; one = one.parentElement) chain.push(one);
    above = chain;
  };
  const rescue = (): void => {
    if (last === undefined || !isLost(last)) return;
    if (covered()) {
      // A dialog that is closing gives the focus back itself; see afterwards whether it could.
      timer = window.setTimeout(rescue, patienceMs);
      return;
    }
    // A button just switched off may still be called the active one for a moment.
    if (document.activeElement !== document.body && document.activeElement !== last) return;
    last = undefined;
    nearest(above)?.focus();
  };
  const watcher = new MutationObserver(() => {
    if (last === undefined || !isLost(last)) return;
    window.clearTimeout(timer);
    timer = window.setTimeout(rescue, patienceMs);
  });
  document.addEventListener('focusin', remember);
  watcher.observe(document.body, {
    childList: true,
    subtree: true,
    attributes: true,
    attributeFilter: ['disabled'],
  });
  return () => {
    document.removeEventListener('focusin', remember);
    watcher.disconnect();
    window.clearTimeout(timer);
  };
};
