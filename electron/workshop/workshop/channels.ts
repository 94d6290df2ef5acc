/** Use-cases: the ways knives are sold and what each takes. */
import { missing, refused } from '../../api/errors.ts';
import { channelRows } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from './need.ts';

/** Every channel, those in use first. */
export const channels: HandlerFor<'workshop.channels'> = (ctx) =>
  channelRows(ctx.db).map((row) => ({
    id: row.id,
    name: row.name,
    feePpm: row.fee_ppm,
    feeFixedMinor: row.fee_fixed_minor,
    abroadExtraPpm: row.abroad_extra_ppm,
    archived: row.archived === 1,
  }));

/** Adds a channel, or changes one; sales already made keep their fee. */
export const saveChannel: HandlerFor<'workshop.saveChannel'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    if (channelRows(ctx.db).some((row) => row.name === input.name && row.id !== input.id)) {
      throw refused(`There is already a channel called ${input.name}. Give this one another name.`, 'name');
    }
    const columns = {
      name: input.name,
      fee_ppm: input.feePpm,
      fee_fixed_minor: input.feeFixedMinor,
      abroad_extra_ppm: input.abroadExtraPpm,
      archived: Number(input.archived),
    };
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    const statement =
      input.id === undefined
        ? q.insertInto('channels').values({ id, ...columns })
        : q.updateTable('channels').set(columns).where('id', '=', id);
    if (ctx.db.run(statement) === 0) throw missing('This channel does not exist any more. Reload the list.');
    return { ...input, id };
  },
};
