/** Use-cases of safety copies. */
import type { Parsed } from '../api/contract.ts';
import type { SafetyCopy } from '../api/workshop.ts';
import type { CommandHandler } from './context.ts';
import type { HandlerFor } from './handlers.ts';

/** Safety copies that were read back, newest first; each with what is no longer as it was in the one before. */
export const listCopies: HandlerFor<'workshop.copies'> = (ctx) => ctx.house.copies();

/** Makes a safety copy and reads it back; the journal notes that it was asked for. */
export const copyNow: CommandHandler<Parsed<'workshop.copyNow'>, SafetyCopy, SafetyCopy> = {
  prepare: (ctx) => ctx.house.copyNow(),
  run: (_ctx, _input, copy) => copy,
};
