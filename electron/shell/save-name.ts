/** Makes a proposed file name safe for every system before it is shown in the save window. */

const reserved = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/**
 * @param proposed name as the page proposes it
 * @returns one plain file name: no folder, no control letters, nothing a system gives a meaning of its own
 */
export const safeFileName = (proposed: string): string => {
  const last = proposed.split(/[\\/]/).at(-1) ?? '';
  // Control letters, and the invisible ones that turn the reading direction and so hide an ending.
  const plain = last.replace(/[\p{Cc}\p{Cf}<>:"|?*]/gu, '').replace(/^[. ]+|[. ]+$/g, '');
  if (plain === '' || reserved.test(plain)) return `file-${plain}`.replace(/-$/, '');
  return plain.slice(-120);
};
