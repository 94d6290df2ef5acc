/** Square codes after ISO/IEC 18004, drawn as filled squares. */
import type PdfDocument from 'pdfkit';
import { encode } from 'uqr';

/** The quiet zone the standard asks for around a code. */
const QUIET_MODULES = 4;

export interface CodeLimits {
  /** Most modules a side may have, as a version of the standard; 40 unless given. */
  readonly maxVersion?: number;
}

/**
 * Draws a code with its quiet zone into a square, neighbours joined so that no hairline shows between them.
 * Error correction is of level M.
 * @throws RangeError when the text does not fit into the largest version allowed
 */
export function drawCode(
  pdf: InstanceType<typeof PdfDocument>,
  text: string,
  place: { readonly x: number; readonly y: number; readonly side: number },
  limits: CodeLimits = {},
): void {
  const { data, size } = encode(text, { ecc: 'M', border: 0, maxVersion: limits.maxVersion ?? 40 });
  const module = place.side / (size + 2 * QUIET_MODULES);
  const [left, top] = [place.x + QUIET_MODULES * module, place.y + QUIET_MODULES * module];
  pdf.fillColor('#000000');
  for (const [row, cells] of data.entries()) {
    for (let from = 0; from < size; from += 1) {
      if (cells[from] !== true) continue;
      let to = from;
      while (cells[to + 1] === true) to += 1;
      pdf.rect(left + from * module, top + row * module, (to - from + 1) * module, module);
      from = to;
    }
  }
  pdf.fill();
}
