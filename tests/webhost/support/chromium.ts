/** Finds the Chromium the tests may drive. */
import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';
import type { Browser } from 'playwright-core';

const usual = '/usr/bin/chromium';

/** Path of a Chromium, or nothing; tests that need it are then counted as skipped. */
export const chromiumPath = process.env['KNIFEWRIGHT_CHROMIUM'] ?? (existsSync(usual) ? usual : undefined);

/** Starts Chromium with every name under `.test` leading to this machine. */
export const startChromium = (path: string): Promise<Browser> => {
  const quiet = ['--disable-gpu', '--disable-quic', '--no-first-run', '--disable-sync'];
  const offline = ['--disable-background-networking', '--disable-component-update'];
  const names = '--host-resolver-rules=MAP *.test 127.0.0.1';
  // Chromium's own sandbox does not work for root; this is the test's browser, not the application.
  const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return chromium.launch({ executablePath: path, args: [...quiet, ...offline, names, ...asRoot] });
};

let shared: Promise<Browser> | undefined;

/**
 * A Chromium for all files of tests that run in this process, one after another; each opens windows of its own, with
 * nothing stored, and closes them. It ends with the process, so nobody closes it.
 */
export const sharedChromium = async (): Promise<Browser> => {
  shared ??= startChromium(chromiumPath ?? '');
  if (!(await shared).isConnected()) shared = startChromium(chromiumPath ?? '');
  return shared;
};
