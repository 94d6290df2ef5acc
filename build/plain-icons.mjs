/**
 * Icons as the drawings they are. The library puts each one together when it is shown, stroke by stroke, which for the
 * dozen of the first screen takes as long as a quarter of all its scripts; here that is done once, while building.
 */

/** Every icon of the library is drawn on a sheet of this size; a test compares each with the library's own drawing. */
const sheet = 24;
const shared = `viewBox="0 0 ${sheet} ${sheet}" fill="none" stroke="currentColor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"`;

const iconFile = /@lucide[\\/]svelte[\\/]dist[\\/]icons[\\/][a-z0-9-]+\.svelte$/;
const drawing = /const iconData = (\{.*\});/;

/**
 * @typedef {readonly [name: string, attributes: Readonly<Record<string, string>>]} Stroke
 * @typedef {{ readonly name: string, readonly size: number, readonly aliases?: readonly string[], readonly node: readonly Stroke[] }} Icon
 */

/** @param {Stroke} stroke */
const written = ([name, attributes]) => {
  const all = Object.entries(attributes).map(([key, value]) => ` ${key}="${value}"`);
  return `<${name}${all.join('')} />`;
};

/**
 * Writes an icon's component anew, with nothing left to reckon but its size.
 * @param {string} source of the library's component
 * @param {string} id file it came from, for the message
 * @throws {Error} when the library no longer writes its icons the way this reads them
 */
export const plainIcon = (source, id) => {
  const data = drawing.exec(source)?.[1];
  if (data === undefined) throw new Error(`The drawing of the icon in ${id} was not found`);
  /** @type {Icon} */
  const icon = JSON.parse(data);
  if (icon.size !== sheet) throw new Error(`The icon in ${id} is drawn on a sheet of another size`);
  const names = [icon.name, ...(icon.aliases ?? [])].map((name) => `lucide-${name}`).join(' ');
  const strokes = icon.node.map(written).join('');
  return `<script>let { size = ${sheet} } = $props();</script>
<svg xmlns="http://www.w3.org/2000/svg" width={size} height={size} ${shared} class="lucide ${names} lucide-icon" aria-hidden="true">${strokes}</svg>
`;
};

/** @type {import('vite').Plugin} */
export const plainIcons = {
  name: 'plain-icons',
  enforce: 'pre',
  transform(source, id) {
    return iconFile.test(id) ? { code: plainIcon(source, id), map: null } : undefined;
  },
};
