/** Fills outlines on a small canvas with soft edges: enough to draw a knife, nothing more. */

export type Point = readonly [x: number, y: number];
export type Colour = readonly [red: number, green: number, blue: number];

export interface Canvas {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue of every point, row by row. */
  readonly data: Uint8Array;
}

/** Lines tried within one row of points. */
const rowsWithin = 4;

export function blankCanvas(width: number, height: number, colour: Colour): Canvas {
  const data = new Uint8Array(width * height * 3);
  for (let at = 0; at < data.length; at += 3) data.set(colour, at);
  return { width, height, data };
}

/** Where a horizontal line meets an outline, from left to right. */
function crossings(outline: readonly Point[], y: number): number[] {
  const found: number[] = [];
  let [px, py] = outline.at(-1) ?? [0, 0];
  for (const [x, y2] of outline) {
    if (py <= y !== y2 <= y) found.push(px + ((y - py) / (y2 - py)) * (x - px));
    [px, py] = [x, y2];
  }
  return found.sort((a, b) => a - b);
}

/** Adds how much of each point of a row lies between two places. */
function cover(row: Float32Array, from: number, to: number): void {
  const left = Math.max(0, from);
  const right = Math.min(row.length, to);
  for (let x = Math.floor(left); x < right; x += 1) {
    row[x] = (row[x] ?? 0) + (Math.min(x + 1, right) - Math.max(x, left)) / rowsWithin;
  }
}

/** First and last point of a row that an outline can touch. */
type Span = readonly [left: number, right: number];

function blend(canvas: Canvas, row: Float32Array, y: number, colour: Colour, [left, right]: Span): void {
  for (let x = left; x <= right; x += 1) {
    const share = row[x] ?? 0;
    if (share <= 0) continue;
    const at = (y * canvas.width + x) * 3;
    for (const [channel, value] of colour.entries()) {
      const under = canvas.data[at + channel] ?? 0;
      canvas.data[at + channel] = Math.round(under + (value - under) * Math.min(1, share));
    }
  }
}

/** Fills an outline given in points of the canvas, y downwards. */
export function fill(canvas: Canvas, outline: readonly Point[], colour: Colour): void {
  const heights = outline.map(([, y]) => y);
  const top = Math.max(0, Math.floor(Math.min(...heights)));
  const bottom = Math.min(canvas.height - 1, Math.ceil(Math.max(...heights)));
  const places = outline.map(([x]) => x);
  const left = Math.max(0, Math.floor(Math.min(...places)));
  const right = Math.min(canvas.width - 1, Math.ceil(Math.max(...places)));
  if (left > right) return;
  const row = new Float32Array(canvas.width);
  for (let y = top; y <= bottom; y += 1) {
    row.fill(0, left, right + 1);
    for (let within = 0; within < rowsWithin; within += 1) {
      const cuts = crossings(outline, y + (within + 0.5) / rowsWithin);
      for (let at = 0; at + 1 < cuts.length; at += 2) cover(row, cuts[at] ?? 0, cuts[at + 1] ?? 0);
    }
    blend(canvas, row, y, colour, [left, right]);
  }
}

/** Draws a line of some thickness from point to point. */
export function stroke(canvas: Canvas, line: readonly Point[], thick: number, colour: Colour): void {
  for (const [at, [x1, y1]] of line.entries()) {
    const next = line[at + 1];
    if (next === undefined) return;
    const [x2, y2] = next;
    const long = Math.hypot(x2 - x1, y2 - y1);
    if (long === 0) continue;
    const [dx, dy] = [((y1 - y2) / long) * (thick / 2), ((x2 - x1) / long) * (thick / 2)];
    fill(
      canvas,
      [
        [x1 + dx, y1 + dy],
        [x2 + dx, y2 + dy],
        [x2 - dx, y2 - dy],
        [x1 - dx, y1 - dy],
      ],
      colour,
    );
  }
}

/** Points of a cubic Bézier curve, its start left out. */
export function curve(from: Point, first: Point, second: Point, to: Point): readonly Point[] {
  return Array.from({ length: 24 }, (_, at): Point => {
    const t = (at + 1) / 24;
    const u = 1 - t;
    const mix = (a: number, b: number, c: number, d: number): number =>
      u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d;
    return [mix(from[0], first[0], second[0], to[0]), mix(from[1], first[1], second[1], to[1])];
  });
}
