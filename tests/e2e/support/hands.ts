/** A person at the keyboard: no mouse, no touching of elements, only keys, and looking where the focus is. */
import type { Locator, Page } from 'playwright-core';
import { settled } from './watch.ts';

const mostTabs = 250;

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** Label of a field: optional ones carry a remark behind it. */
const labelled = (label: string): RegExp => new RegExp(`^\\s*${escaped(label)}(\\s*\\(if you like\\))?\\s*$`);

export class Hands {
  readonly page: Page;
  constructor(page: Page) {
    this.page = page;
  }

  /** The sheet on top, or the whole screen. */
  async #where(): Promise<Locator> {
    const dialog = this.page.getByRole('dialog').or(this.page.getByRole('alertdialog'));
    return (await dialog.count()) > 0 ? dialog.last() : this.page.locator('body');
  }

  /** Tabs until the focus is there. */
  async reach(target: Locator): Promise<void> {
    await target.waitFor();
    for (let at = 0; at < mostTabs; at += 1) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await this.page.keyboard.press('Tab');
    }
    throw new Error(`Tab never gets to ${String(target)}`);
  }

  async #field(label: string, at: number): Promise<Locator> {
    const where = await this.#where();
    return where.getByLabel(labelled(label)).and(where.locator('input, select, textarea')).nth(at);
  }

  /** Writes over what stands in a field. @param at which of several fields of that label */
  async write(label: string, text: string, at = 0): Promise<void> {
    await this.reach(await this.#field(label, at));
    await this.page.keyboard.press('Control+A');
    for (const [row, line] of text.split('\n').entries()) {
      if (row > 0) await this.page.keyboard.press('Enter');
      await this.page.keyboard.type(line);
    }
  }

  /** Types into a list that narrows and takes what it offers. @param offer the offer to take; what is typed otherwise */
  async choose(label: string, text: string, offer = text, at = 0): Promise<void> {
    await this.write(label, text, at);
    const option = this.page.getByRole('option', { name: offer }).first();
    await option.waitFor();
    for (let step = 0; step < 30; step += 1) {
      if ((await option.getAttribute('data-highlighted')) !== null) break;
      await this.page.keyboard.press('ArrowDown');
    }
    await this.page.keyboard.press('Enter');
    await option.waitFor({ state: 'hidden' });
  }

  /** Picks from the browser's own list by typing the beginning of an entry. */
  async pick(label: string, text: string, at = 0): Promise<void> {
    const field = await this.#field(label, at);
    await this.reach(field);
    await this.page.keyboard.type(text);
    const now = await field.evaluate(
      (element) => (element as HTMLSelectElement).selectedOptions[0]?.label ?? '',
    );
    if (!now.startsWith(text)) throw new Error(`“${label}” shows “${now}”, not “${text}”`);
  }

  /** Presses a button. */
  async press(name: string | RegExp): Promise<void> {
    const exact = typeof name === 'string' ? { name, exact: true } : { name };
    await this.reach((await this.#where()).getByRole('button', exact).first());
    await this.page.keyboard.press('Enter');
  }

  /** Presses the button that sends a sheet, and waits until the sheet is gone. */
  async send(name: string): Promise<void> {
    // The sheet may still be on its way; without it the button of that name on the page would be meant.
    await this.page.getByRole('dialog').last().waitFor();
    await this.press(name);
    await this.page.getByRole('dialog').waitFor({ state: 'hidden' });
  }

  /** Follows a link. */
  async follow(name: string | RegExp): Promise<void> {
    const exact = typeof name === 'string' ? { name, exact: true } : { name };
    await this.reach((await this.#where()).getByRole('link', exact).first());
    await this.page.keyboard.press('Enter');
  }

  /** Ticks a box that is not ticked yet. */
  async tick(label: string | RegExp): Promise<void> {
    const box = (await this.#where()).getByRole('checkbox', { name: label }).first();
    await this.reach(box);
    if (!(await box.isChecked())) await this.page.keyboard.press('Space');
  }

  /** Presses keys one after another, e.g. `g`, `s`. */
  async keys(...pressed: readonly string[]): Promise<void> {
    // Letters act only while nothing is being typed; a screen that still answers may yet move the focus.
    await settled(this.page);
    await this.page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    for (const key of pressed) await this.page.keyboard.press(key);
  }

  /** Waits for a heading of the first rank. */
  async arrive(title: string | RegExp): Promise<void> {
    await this.page.getByRole('heading', { level: 1, name: title }).waitFor();
  }

  /** Waits until a text is to be seen. */
  async see(text: string | RegExp): Promise<void> {
    await this.page.getByText(text).first().waitFor();
  }
}
