import { describe, expect, it } from 'vitest';
import { createPresence } from '../../electron/webhost/presence.ts';

const limits = { idleMs: 90_000, silentMs: 3_600_000 };
const tick = 1000;

/** A clock and a presence that is asked every second, as the host does. */
const watch = () => {
  let now = 0;
  const presence = createPresence(() => now, limits, tick);
  const run = (seconds: number): boolean => {
    let over = false;
    for (let i = 0; i < seconds; i += 1) {
      now += tick;
      over = presence.isOver();
    }
    return over;
  };
  const sleep = (seconds: number): boolean => {
    now += seconds * tick;
    return presence.isOver();
  };
  return { ...presence, run, sleep };
};

describe('which tabs are open', () => {
  it('W16 is not over before the first tab has come, however long that takes', () => {
    expect(watch().run(10_000)).toBe(false);
  });

  it('W16 is over only some time after the last tab has said goodbye', () => {
    const tabs = watch();
    tabs.alive('tab-one-1');
    tabs.alive('tab-two-2');
    tabs.goodbye('tab-one-1');
    expect(tabs.run(200)).toBe(false);
    tabs.goodbye('tab-two-2');
    expect(tabs.run(89)).toBe(false);
    expect(tabs.run(1)).toBe(true);
  });

  it('W16 takes a reload for what it is', () => {
    const tabs = watch();
    tabs.alive('before-reload');
    tabs.goodbye('before-reload');
    tabs.run(2);
    tabs.alive('after-reload');
    expect(tabs.run(500)).toBe(false);
  });

  it('W16 believes a silent tab to be open for a long time, then gives it up', () => {
    const tabs = watch();
    tabs.alive('silent-tab');
    expect(tabs.run(3600)).toBe(false);
    expect(tabs.run(91)).toBe(true);
  });

  it('W16 does not count the time a suspended machine has slept', () => {
    const tabs = watch();
    tabs.alive('sleeping-tab');
    expect(tabs.sleep(50_000)).toBe(false);
    tabs.goodbye('sleeping-tab');
    tabs.run(50);
    expect(tabs.sleep(50_000)).toBe(false);
    expect(tabs.run(30)).toBe(false);
    expect(tabs.run(20)).toBe(true);
  });

  it('pays no heed to a goodbye of a tab it has never seen', () => {
    const tabs = watch();
    tabs.goodbye('stranger-1');
    expect(tabs.run(200)).toBe(false);
  });
});
