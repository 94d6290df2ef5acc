/** Use-cases: stages of work. */
import { stageRows } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from './need.ts';

/** Every stage in the order of work. */
export const stages: HandlerFor<'workshop.stages'> = (ctx) =>
  stageRows(ctx.db).map((row) => ({
    code: row.code,
    name: row.name,
    position: row.position,
    attended: row.attended === 1,
    archived: row.archived === 1,
  }));

/** Adds a stage, or changes the one with this code. Knives already planned keep theirs. */
export const saveStage: HandlerFor<'workshop.saveStage'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const columns = {
      name: input.name,
      position: input.position,
      attended: Number(input.attended),
      archived: Number(input.archived),
    };
    ctx.db.run(
      ctx.db.q
        .insertInto('stages')
        .values({ code: input.code, ...columns })
        .onConflict((conflict) => conflict.column('code').doUpdateSet(columns)),
    );
    return input;
  },
};
