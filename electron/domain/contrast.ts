/** How well a colour can be told from another: relative luminance and contrast of WCAG 2.2. */

/** True for `#rrggbb`. */
export const isHexColour = (text: string): boolean => /^#[0-9a-f]{6}$/i.test(text);

const channel = (hex: string, at: number): number => {
  const part = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
  return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
};

const luminance = (hex: string): number =>
  0.2126 * channel(hex, 1) + 0.7152 * channel(hex, 3) + 0.0722 * channel(hex, 5);

/** Contrast of two colours `#rrggbb`, 1 to 21. */
export const contrast = (one: string, other: string): number => {
  const [dark, light] = [luminance(one), luminance(other)].toSorted((a, b) => a - b);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
};

/** Least contrast of text with the ground it stands on (WCAG 2.2, 1.4.3). */
export const LEAST_CONTRAST = 4.5;
