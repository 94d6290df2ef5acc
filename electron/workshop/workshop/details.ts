/** Use-cases: set up the workshop once, keep its details, tell how it stands. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { Workshop } from '../../api/workshop.ts';
import { currencyOf, decimalsOf } from '../../domain/currencies.ts';
import { microToMinor, minorToMicro } from '../../domain/money.ts';
import { validatePattern } from '../../domain/numbering.ts';
import { channelRows, holdsMoney, taxPlaceRow } from '../../storage/queries/workshop.ts';
import { valueOrInvalid } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { defaultMinor, firstChannels, firstStages, STAGE_STEP } from './defaults.ts';
import { needWorkshop, readWorkshop } from './need.ts';
import { saveTaxPlaceRow } from './tax-places.ts';

/** Decimals before anybody has chosen a currency. */
const USUAL_DECIMALS = 2;

/** How the workshop stands: set up or not, what day it is, when the last checked safety copy was made. */
export const state: HandlerFor<'workshop.state'> = (ctx) => {
  const workshop = readWorkshop(ctx.db);
  const copies = ctx.house.copies();
  return {
    isSetUp: workshop !== null,
    demo: ctx.house.demo,
    today: ctx.clock.today(),
    now: ctx.clock.now(),
    workshop,
    decimals: workshop === null ? USUAL_DECIMALS : decimalsOf(workshop.currency),
    lastVerifiedCopy: copies.find((copy) => copy.verified)?.at ?? null,
    changedByItself: copies[0]?.changed ?? null,
  };
};

type Details = Omit<Parsed<'workshop.update'>, 'homeTaxPlaceId'>;

function checkDetails(details: Details): void {
  const currency = currencyOf(details.currency);
  if (currency?.decimals == null) {
    throw invalid(
      `“${details.currency}” is not a currency of ISO 4217 that books can be kept in. Choose one from the list.`,
      'currency',
    );
  }
  valueOrInvalid(validatePattern(details.invoicePattern), 'invoicePattern');
}

const detailColumns = (details: Details) => ({
  name: details.name,
  maker: details.maker,
  address: details.address,
  city: details.city,
  region: details.region,
  postcode: details.postcode,
  country: details.country,
  email: details.email,
  phone: details.phone,
  website: details.website,
  tax_number: details.taxNumber,
  register_number: details.registerNumber,
  currency: details.currency,
  length_habit: details.lengthHabit,
  weight_habit: details.weightHabit,
  paper: details.paper,
  invoice_pattern: details.invoicePattern,
  invoice_terms_days: details.invoiceTermsDays,
  invoice_note: details.invoiceNote,
});

function addFirstRates(ctx: CommandContext, input: Parsed<'workshop.setUp'>): void {
  const { q } = ctx.db;
  const from = { from_date: input.labourFrom, note: '' };
  const rates = [
    { id: ctx.newId(), kind: 'labour', per_hour_micro: input.labourPerHourMicro, ...from },
    { id: ctx.newId(), kind: 'overhead', per_hour_micro: input.overheadPerHourMicro, ...from },
  ];
  ctx.db.run(q.insertInto('rates').values(rates));
}

function addFirstStagesAndChannels(ctx: CommandContext, decimals: number): void {
  const { q } = ctx.db;
  const stages = firstStages.map(([code, name], at) => ({
    code,
    name,
    position: (at + 1) * STAGE_STEP,
    attended: 1,
  }));
  ctx.db.run(q.insertInto('stages').values(stages));
  const channels = firstChannels.map((channel) => ({
    id: ctx.newId(),
    name: channel.name,
    fee_ppm: channel.feePpm,
    fee_fixed_minor: defaultMinor(channel.feeFixedMicro, decimals),
    abroad_extra_ppm: channel.abroadExtraPpm,
  }));
  ctx.db.run(q.insertInto('channels').values(channels));
}

/** Sets up a new workshop, once: details, home tax place, first rates, usual stages, usual channels. */
export const setUp: HandlerFor<'workshop.setUp'> = {
  run(ctx, input) {
    if (readWorkshop(ctx.db) !== null) {
      throw refused('This workshop is set up already. Change its details under Workshop.');
    }
    checkDetails(input);
    const homeTaxPlaceId = saveTaxPlaceRow(ctx, { ...input.taxPlace, archived: false });
    const fixed = { id: 1, home_tax_place_id: homeTaxPlaceId, set_up_at: ctx.clock.now() };
    ctx.db.run(ctx.db.q.insertInto('workshop').values({ ...detailColumns(input), ...fixed }));
    addFirstRates(ctx, input);
    addFirstStagesAndChannels(ctx, decimalsOf(input.currency));
    return needWorkshop(ctx.db);
  },
};

function checkHome(ctx: CommandContext, id: string): void {
  const place = taxPlaceRow(ctx.db, id);
  if (place === undefined)
    throw invalid('This tax place does not exist any more. Choose another one.', 'homeTaxPlaceId');
  if (place.archived === 1)
    throw refused(`${place.name} is put away. Bring it back or choose another tax place.`, 'homeTaxPlaceId');
}

/** Carries the fixed fees of channels over to the decimals of another currency: 0.30 stays 0.30, or 0.300. */
function rescaleFees(ctx: CommandContext, from: string, to: string): void {
  const { q } = ctx.db;
  for (const { id, fee_fixed_minor } of channelRows(ctx.db)) {
    const minor = microToMinor(minorToMicro(fee_fixed_minor, decimalsOf(from)), decimalsOf(to));
    ctx.db.run(q.updateTable('channels').set({ fee_fixed_minor: minor }).where('id', '=', id));
  }
}

/** Changes the workshop's details. The currency is fixed once amounts stand in the books. */
export const update: HandlerFor<'workshop.update'> = {
  run(ctx, input): Workshop {
    const before = needWorkshop(ctx.db);
    checkDetails(input);
    checkHome(ctx, input.homeTaxPlaceId);
    if (input.currency !== before.currency && holdsMoney(ctx.db)) {
      throw refused(
        `The books hold amounts in ${before.currency}; the currency cannot change any more. Make a new workshop for another currency.`,
        'currency',
      );
    }
    const columns = { ...detailColumns(input), home_tax_place_id: input.homeTaxPlaceId };
    ctx.db.run(ctx.db.q.updateTable('workshop').set(columns).where('id', '=', 1));
    if (input.currency !== before.currency) rescaleFees(ctx, before.currency, input.currency);
    return needWorkshop(ctx.db);
  },
};
