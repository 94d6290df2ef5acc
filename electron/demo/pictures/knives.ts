/** Draws each model in outline on squared drawing paper: what stands in for a photo in the demo workshop. */
import type { Variant } from '../tables/models.ts';
import { toBase64, toPng } from './png.ts';
import { blankCanvas, curve, fill, stroke, type Canvas, type Colour, type Point } from './raster.ts';

/** Measures in millimetres. */
interface Shape {
  readonly blade: number;
  /** Height of the blade at the heel. */
  readonly heel: number;
  /** How far the tip lies under the spine. */
  readonly drop: number;
  readonly handle: number;
  readonly thick: number;
  /** From the handle to the heel. */
  readonly neck: number;
  readonly wood: Colour;
  /** Length of the guard, ferrule or bolster in front of the handle; zero for none. */
  readonly collar: number;
  readonly pins: number;
}

const walnut: Colour = [112, 78, 52];
const maple: Colour = [196, 160, 108];
const burl: Colour = [146, 92, 56];
const laminate: Colour = [74, 84, 78];

const hunter = { blade: 100, heel: 28, drop: 7, handle: 112, thick: 25, neck: 9 } as const;
const camp = {
  blade: 178,
  heel: 44,
  drop: 12,
  handle: 130,
  thick: 31,
  neck: 12,
  wood: laminate,
  collar: 0,
  pins: 3,
} as const;
const chef = {
  blade: 220,
  heel: 50,
  drop: 30,
  handle: 128,
  thick: 24,
  neck: 16,
  wood: burl,
  collar: 12,
  pins: 0,
} as const;

const shapes: Readonly<Record<Variant, Shape>> = {
  PAR: { blade: 90, heel: 22, drop: 12, handle: 104, thick: 19, neck: 5, wood: walnut, collar: 0, pins: 2 },
  PET: { blade: 150, heel: 30, drop: 17, handle: 118, thick: 20, neck: 10, wood: maple, collar: 14, pins: 0 },
  CHF: chef,
  CHFP: chef,
  HUNB: { ...hunter, wood: walnut, collar: 0, pins: 2 },
  HUNH: { ...hunter, wood: burl, collar: 10, pins: 2 },
  HUNP: { ...hunter, wood: burl, collar: 10, pins: 2 },
  CMPB: camp,
  CMPH: camp,
};

const paper: Colour = [246, 241, 231];
const squares: Colour = [235, 227, 213];
const ink: Colour = [43, 38, 34];
const quietInk: Colour = [128, 116, 102];
const steel: Colour = [137, 145, 150];
const ground: Colour = [184, 191, 195];
const brass: Colour = [199, 163, 86];
const collarMetal: Colour = [164, 158, 146];

const shade = ([r, g, b]: Colour, by: number): Colour => [r * by, g * by, b * by];

const bladeOutline = (s: Shape): readonly Point[] => {
  const tip: Point = [s.blade, s.drop];
  const heel: Point = [s.neck, s.heel];
  return [
    [0, 1],
    [s.blade * 0.3, 0],
    ...curve([s.blade * 0.3, 0], [s.blade * 0.6, 0], [s.blade * 0.88, s.drop * 0.35], tip),
    ...curve(
      tip,
      [s.blade * 0.93, s.drop + (s.heel - s.drop) * 0.45],
      [s.blade * 0.72, s.heel * 0.98],
      [s.blade * 0.42, s.heel],
    ),
    heel,
    [s.neck - 1.5, s.heel - 3],
    [Math.max(1, s.neck - 5), s.thick * 0.88],
    [0, s.thick * 0.86],
  ];
};

/** The ground face: from the edge up to the grind line. */
const groundOutline = (s: Shape): readonly Point[] => {
  const tip: Point = [s.blade - 0.6, s.drop + 0.4];
  const line: Point = [s.neck + 1, s.heel * 0.45];
  return [
    ...curve(line, [s.blade * 0.5, s.heel * 0.42], [s.blade * 0.85, s.drop * 0.9], tip),
    ...curve(
      tip,
      [s.blade * 0.93, s.drop + (s.heel - s.drop) * 0.45],
      [s.blade * 0.72, s.heel * 0.97],
      [s.blade * 0.42, s.heel - 0.5],
    ),
    [s.neck + 0.6, s.heel - 0.5],
  ];
};

const handleOutline = (s: Shape): readonly Point[] => {
  const back = -s.handle;
  return [
    [0, 0],
    ...curve([0, 0], [-s.handle * 0.3, -1.5], [-s.handle * 0.7, -1.5], [back + 5, 2]),
    ...curve([back + 5, 2], [back - 1, 6], [back - 1, s.thick * 0.8], [back + 4, s.thick * 1.12]),
    ...curve(
      [back + 4, s.thick * 1.12],
      [-s.handle * 0.66, s.thick * 0.82],
      [-s.handle * 0.34, s.thick * 1.02],
      [0, s.thick * 0.86],
    ),
  ];
};

const circle = (x: number, y: number, radius: number): readonly Point[] =>
  Array.from({ length: 24 }, (_, at): Point => {
    const angle = (at / 24) * 2 * Math.PI;
    return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  });

/** Lines of the grain, drawn as hair lines a shade darker. */
const grain = (s: Shape): readonly (readonly Point[])[] =>
  [0.22, 0.38, 0.55, 0.72].map((height, at) => {
    const y = s.thick * height;
    const from: Point = [-s.handle * 0.93, y + (at % 2)];
    return [
      from,
      ...curve(from, [-s.handle * 0.6, y - 2.2], [-s.handle * 0.35, y + 2.4], [-s.collar - 3, y]),
    ];
  });

/** Centimetre squares. */
function drawSquares(canvas: Canvas, side: number, [fromX, fromY]: Point, thin: number): void {
  for (let x = fromX; x < canvas.width; x += side)
    stroke(
      canvas,
      [
        [x, 0],
        [x, canvas.height],
      ],
      thin,
      squares,
    );
  for (let y = fromY; y < canvas.height; y += side)
    stroke(
      canvas,
      [
        [0, y],
        [canvas.width, y],
      ],
      thin,
      squares,
    );
}

/** Draws a model; the picture is as wide as asked and three fifths as high. */
function drawKnife(variant: Variant, width: number): Canvas {
  const s = shapes[variant];
  const height = Math.round(width * 0.6);
  const canvas = blankCanvas(width, height, paper);
  const scale = (width * 0.84) / (s.blade + s.handle);
  const left = width * 0.08 + s.handle * scale;
  const top = height / 2 - (s.heel * scale) / 2;
  const place = (points: readonly Point[]): readonly Point[] =>
    points.map(([x, y]) => [left + x * scale, top + y * scale]);
  const thin = Math.max(0.7, width / 640);

  drawSquares(canvas, scale * 10, [left % (scale * 10), top % (scale * 10)], thin);
  const part = (outline: readonly Point[], colour: Colour): void => {
    const placed = place(outline);
    fill(canvas, placed, colour);
    stroke(canvas, [...placed, ...placed.slice(0, 1)], 1.6 * thin, ink);
  };
  part(bladeOutline(s), steel);
  fill(canvas, place(groundOutline(s)), ground);
  part(handleOutline(s), s.wood);
  for (const line of grain(s)) stroke(canvas, place(line), 1.1 * thin, shade(s.wood, 0.8));
  if (s.collar > 0)
    part(
      [
        [0, -0.6],
        [0, s.thick * 0.88],
        [-s.collar, s.thick * 0.92],
        [-s.collar, -0.8],
      ],
      collarMetal,
    );
  for (let pin = 0; pin < s.pins; pin += 1) {
    part(circle(-s.handle * (0.25 + (0.5 * pin) / Math.max(1, s.pins - 1)), s.thick * 0.46, 2.6), brass);
  }
  const under = s.heel + Math.max(12, s.thick * 0.5);
  for (const x of [s.neck, s.blade])
    stroke(
      canvas,
      place([
        [x, under - 4],
        [x, under + 4],
      ]),
      thin,
      quietInk,
    );
  stroke(
    canvas,
    place([
      [s.neck, under],
      [s.blade, under],
    ]),
    thin,
    quietInk,
  );
  return canvas;
}

/** A picture for a knife's page and a small one for lists, as the contract carries them. */
export interface Picture {
  readonly base64: string;
  readonly thumbBase64: string;
}

/** Draws a model in both sizes. */
export async function pictureOf(variant: Variant): Promise<Picture> {
  const [large, small] = await Promise.all([toPng(drawKnife(variant, 960)), toPng(drawKnife(variant, 320))]);
  return { base64: toBase64(large), thumbBase64: toBase64(small) };
}
