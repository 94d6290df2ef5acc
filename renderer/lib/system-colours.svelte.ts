/** Whether the machine itself is set to dark, followed while the page is open. */
class SystemColours {
  dark = $state(false);

  constructor() {
    // Outside of a page, as in tests, there is nothing to ask.
    if (typeof matchMedia === 'undefined') return;
    const asked = matchMedia('(prefers-color-scheme: dark)');
    this.dark = asked.matches;
    asked.addEventListener('change', (event) => (this.dark = event.matches));
  }
}

export const systemColours = new SystemColours();
