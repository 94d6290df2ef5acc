/** Papers handed to the screen. */
import type { FileOut } from '../../api/costs.ts';

/** A plain file name on every system: anything doubtful becomes a hyphen. */
export const fileName = (text: string): string =>
  text
    .replace(/[^\p{L}\d ._-]+/gu, '-')
    .replace(/^[. ]+|[. ]+$/g, '')
    .slice(0, 80) || 'paper';

/** A PDF with its name. */
export const pdfOut = (name: string, bytes: Uint8Array): FileOut => ({
  name: `${fileName(name)}.pdf`,
  mime: 'application/pdf',
  base64: Buffer.from(bytes).toString('base64'),
});
