/** Printed pages as pictures, made by the system's own printer of PDF files. */
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

/** Whether the system has that program; tests that need it are skipped without it. */
export const hasRaster = spawnSync('pdftoppm', ['-v']).status === 0;

/** The first page as a plain picture: PGM, a header of three numbers and then one byte a dot. */
export function rasterOf(
  pdf: Uint8Array,
  dpi: number,
): { data: Uint8ClampedArray; width: number; height: number } {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'knifewright-labels-'));
  const file = path.join(folder, 'labels.pdf');
  fs.writeFileSync(file, pdf);
  const args = ['-r', String(dpi), '-gray', '-f', '1', '-l', '1', file];
  const pgm = execFileSync('pdftoppm', args, { maxBuffer: 1 << 28 });
  fs.rmSync(folder, { recursive: true });
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.subarray(0, 40).toString('latin1'));
  const [all = '', wide = '0', high = '0'] = head ?? [];
  const [width, height] = [Number(wide), Number(high)];
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let at = 0; at < width * height; at += 1) data.fill(pgm[all.length + at] ?? 0, at * 4, at * 4 + 3);
  return { data, width, height };
}
