/** Contract of the yearly report on paper. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { query } from './endpoint.ts';
import * as f from './fields.ts';

/** Every call of the yearly report on paper. */
export const yearPaperEndpoints = {
  'year.paper': query(
    z.strictObject({
      from: f.isoDate,
      to: f.isoDate,
      /** ISO 639-1; the workshop's own language unless given. */
      language: z.string().max(8).optional(),
    }),
  )<FileOut>(),
} as const;
