/** Paper or dark, as the machine has it or as chosen here. */
import { keepUnder, keptUnder } from './kept.ts';

export type ThemeChoice = 'system' | 'light' | 'dark';

const storageName = 'knifewright.theme';
const isChoice = (text: string | null): text is ThemeChoice =>
  text === 'system' || text === 'light' || text === 'dark';

class Theme {
  choice = $state<ThemeChoice>('system');

  /** Takes up the choice made last time. */
  start(): void {
    const kept = keptUnder(storageName);
    this.#show(isChoice(kept) ? kept : 'system');
  }

  set(choice: ThemeChoice): void {
    keepUnder(storageName, choice);
    this.#show(choice);
  }

  #show(choice: ThemeChoice): void {
    this.choice = choice;
    document.documentElement.dataset['theme'] = choice;
  }
}

export const theme = new Theme();
