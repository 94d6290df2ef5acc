/** Remembers where the window stood. Pure; reading and writing the file happens in the thin layer. */
import { z } from 'zod';

export interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface WindowPlace {
  readonly bounds: Rectangle;
  readonly maximized: boolean;
}

const edge = z.int().min(-100_000).max(100_000);
const placeShape = z.object({
  bounds: z.object({ x: edge, y: edge, width: edge, height: edge }),
  maximized: z.boolean(),
});

/** No window is smaller than this; the screens need the room. */
export const smallest = { width: 900, height: 600 } as const;
const usual = { width: 1360, height: 860 } as const;

const overlap = (a: Rectangle, b: Rectangle): number => {
  const wide = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const high = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return Math.max(0, wide) * Math.max(0, high);
};

const clamp = (value: number, least: number, most: number): number => Math.max(least, Math.min(value, most));

const fitInto = (wanted: Rectangle, screen: Rectangle): Rectangle => {
  const width = Math.min(Math.max(wanted.width, smallest.width), screen.width);
  const height = Math.min(Math.max(wanted.height, smallest.height), screen.height);
  return {
    width,
    height,
    x: clamp(wanted.x, screen.x, screen.x + screen.width - width),
    y: clamp(wanted.y, screen.y, screen.y + screen.height - height),
  };
};

const centred = (screen: Rectangle): Rectangle => {
  const width = Math.min(usual.width, screen.width);
  const height = Math.min(usual.height, screen.height);
  const x = screen.x + Math.floor((screen.width - width) / 2);
  return { width, height, x, y: screen.y + Math.floor((screen.height - height) / 2) };
};

/**
 * Where the window goes: as it stood, but always whole and on a screen that exists.
 * @param saved what was read from the file, of whatever shape
 * @param screens usable areas, the main screen first
 */
export const placeWindow = (saved: unknown, screens: readonly Rectangle[]): WindowPlace => {
  const main = screens[0] ?? { x: 0, y: 0, ...usual };
  const read = placeShape.safeParse(saved);
  if (!read.success) return { bounds: centred(main), maximized: false };
  const { bounds, maximized } = read.data;
  const best = [...screens].sort((a, b) => overlap(bounds, b) - overlap(bounds, a))[0] ?? main;
  // A window whose screen was unplugged comes back on the main one.
  if (overlap(bounds, best) === 0) return { bounds: centred(main), maximized };
  return { bounds: fitInto(bounds, best), maximized };
};
