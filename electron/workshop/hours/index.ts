/** Use-cases of the Hours area. */
import type { hoursEndpoints } from '../../api/hours.ts';
import { missing } from '../../api/errors.ts';
import {
  allKnives,
  countSessions,
  listSessions,
  listStages,
  sessionVersions,
} from '../../storage/queries/hours.ts';
import type { Handlers } from '../handlers.ts';
import { asEntry, cancelSession, checkEntry, correctSession, writeSession } from './book.ts';
import { clockNow, clocksNow, drop, setUpDone, start, stop, switchTo } from './clock.ts';
import { elapsedOf } from './elapsed.ts';
import { people, savePerson, setPersonRate } from './people.ts';
import { readGuess } from './read-guess.ts';
import { sessionRows, versionRows } from './rows.ts';
import { weekSheet } from './week.ts';

/** Which use-case answers which call. */
export const hoursHandlers: Pick<Handlers, keyof typeof hoursEndpoints> = {
  'hours.clock': (ctx) => clockNow(ctx, null),
  'hours.clocks': (ctx) => clocksNow(ctx),
  'hours.start': { run: (ctx, input) => start(ctx, input) },
  'hours.switch': { run: (ctx, input) => switchTo(ctx, input) },
  'hours.stop': { run: (ctx, input) => stop(ctx, input) },
  'hours.dropClock': { run: (ctx, input) => drop(ctx, input.personId) },
  'hours.setUpDone': { run: (ctx, input) => setUpDone(ctx, input.personId) },
  'hours.people': people,
  'hours.savePerson': savePerson,
  'hours.setPersonRate': setPersonRate,
  'hours.elapsed': (ctx, input) => elapsedOf(ctx, input.buildId),
  'hours.readGuess': (ctx, input) => readGuess(input.text, listStages(ctx.db), allKnives(ctx.db)),
  'hours.book': {
    run: (ctx, input) => {
      const entry = asEntry(input);
      checkEntry(ctx, entry);
      return writeSession(ctx, entry, { version: 1, source: input.source, reason: '' });
    },
  },
  'hours.correct': { run: (ctx, input) => correctSession(ctx, input) },
  'hours.cancel': { run: (ctx, input) => cancelSession(ctx, input.sessionId, input.reason) },
  'hours.sessions': (ctx, input) => {
    const filter = { from: input.from, to: input.to, buildId: input.buildId, text: input.text };
    const rows = sessionRows(ctx.db, listSessions(ctx.db, filter, input.limit, input.offset));
    return { rows, total: countSessions(ctx.db, filter) };
  },
  'hours.history': (ctx, input) => {
    const versions = sessionVersions(ctx.db, input.sessionId);
    if (versions.length === 0) throw missing('This session is not in the books.');
    return versionRows(ctx.db, versions);
  },
  'hours.week': (ctx, input) => weekSheet(ctx, input.on),
};
