/** Makes a proposed file name safe for every system before it is shown in the save window. */

const reserved = /^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/i;

/**
 * @param proposed name as the page proposes it
 * @returns one plain file name: no folder, no control letters, nothing a system gives a meaning of its own
 */
export const safeFileName = (proposed: string): string => {
  const last = proposed.split(/[\\/]/).at(-1) ?? '';
  // eslint-disable-next-line no-control-regex -- control letters are exactly what has to go
  const plain = last.replace(/[\u0000-\u001f\u007f<>:"|?*\u202a-\u202e\u2066-\u2069]/g, '').replace(/^[. ]+|[. ]+$/g, '');
  if (plain === '' || reserved.test(plain)) return `file-${plain}`.replace(/-$/, '');
  return plain.slice(-120);
};
