/**
 * Oxide colours of tempering as three published tables give them. They do not agree, and the time at heat moves the
 * colour too: the table is shown so that nobody derives a temperature from a colour.
 */

/** One colour, with what each source says, in °F as printed. */
export interface TemperColour {
  readonly colour: string;
  readonly fahrenheit: readonly [number, number, number];
}

/** Where the three columns come from, in their order. */
export const temperColourSources = [
  'Dooley, Applied Science for Metal Workers',
  'doublegunshop.com',
  'sheffieldgaugeplate.co.uk',
] as const;

/** The colours from pale to blue. Where a source prints two figures for a colour the first stands here. */
export const temperColours: readonly TemperColour[] = [
  { colour: 'Pale straw', fahrenheit: [430, 390, 410] },
  { colour: 'Straw', fahrenheit: [460, 445, 430] },
  { colour: 'Dark straw', fahrenheit: [480, 465, 460] },
  { colour: 'Brown', fahrenheit: [500, 480, 480] },
  { colour: 'Purple', fahrenheit: [530, 520, 520] },
  { colour: 'Dark purple', fahrenheit: [550, 540, 530] },
  { colour: 'Blue', fahrenheit: [570, 575, 550] },
];

/** How far apart the sources are for one colour, in °F. */
export const colourSpread = ({ fahrenheit }: TemperColour): number =>
  Math.max(...fahrenheit) - Math.min(...fahrenheit);
