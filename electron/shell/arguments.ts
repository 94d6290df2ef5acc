/** Picks our own words out of the command line that Electron was started with. */

/**
 * Keeps `--demo` and `--data DIR`; Chromium's own switches and the entry file are none of ours.
 * @param argv `process.argv`
 */
export const desktopArguments = (argv: readonly string[]): readonly string[] => {
  const known: string[] = [];
  for (let i = 1; i < argv.length; i += 1) {
    const word = argv[i] ?? '';
    if (word === '--demo' || word.startsWith('--data=')) known.push(word);
    if (word === '--data') known.push(...argv.slice(i, i + 2));
  }
  return known;
};
