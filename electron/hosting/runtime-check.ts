/** Tells early, in words, when the Node.js that runs us is too old for the database. */

/** The N-API level the database driver was built for; an older Node.js ends without a word when it is used. */
const neededNapi = 10;

/**
 * @param versions `process.versions`
 * @returns a sentence for the person, or nothing when all is well
 */
export const runtimeProblem = (versions: {
  readonly node: string;
  readonly napi?: string | undefined;
}): string | undefined => {
  const napi = Number.parseInt(versions.napi ?? '0', 10);
  if (napi >= neededNapi) return undefined;
  return `Knifewright needs Node.js 22.14 or newer and this is ${versions.node}; start it with "npm start", which fetches a newer one, or install a newer Node.js.`;
};
