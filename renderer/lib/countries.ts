/** Countries by their two letters (ISO 3166-1 alpha-2), and what is usual there. */

const codes =
  'AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO FR GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU RW SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN TO TR TT TV TW TZ UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW'.split(
    ' ',
  );

const names = new Intl.DisplayNames('en', { type: 'region' });

/** Every country with its English name, in the order of the names. */
export const countries: readonly {
  readonly value: string;
  readonly label: string;
  readonly detail: string;
}[] = codes
  .map((code) => ({ value: code, label: names.of(code) ?? code, detail: code }))
  .sort((a, b) => a.label.localeCompare(b.label, 'en'));

const euro = 'AT BE CY DE EE ES FI FR GR HR IE IT LT LU LV MT NL PT SI SK'.split(' ');
const currencyOfCountry: Readonly<Record<string, string>> = {
  AU: 'AUD',
  BR: 'BRL',
  CA: 'CAD',
  CH: 'CHF',
  CZ: 'CZK',
  DK: 'DKK',
  GB: 'GBP',
  HU: 'HUF',
  IN: 'INR',
  IS: 'ISK',
  JP: 'JPY',
  KR: 'KRW',
  MX: 'MXN',
  NO: 'NOK',
  NZ: 'NZD',
  PL: 'PLN',
  RO: 'RON',
  SE: 'SEK',
  TR: 'TRY',
  UA: 'UAH',
  US: 'USD',
  ZA: 'ZAR',
};
/** What value added tax is called on invoices there (names of the tax in the laws of each country; from memory). */
const taxNames: Readonly<Record<string, string>> = {
  AT: 'USt',
  AU: 'GST',
  CA: 'GST',
  CH: 'MWST',
  CZ: 'DPH',
  DE: 'USt',
  DK: 'moms',
  ES: 'IVA',
  FI: 'ALV',
  FR: 'TVA',
  HU: 'ÁFA',
  IN: 'GST',
  IT: 'IVA',
  LU: 'TVA',
  NL: 'btw',
  NO: 'mva',
  NZ: 'GST',
  PT: 'IVA',
  RO: 'TVA',
  SE: 'moms',
  SI: 'DDV',
  SK: 'DPH',
  US: 'Sales tax',
};
const letterPaper = ['US', 'CA', 'MX', 'PH'];

export interface Habits {
  readonly country: string;
  readonly currency: string;
  readonly lengthHabit: 'inch' | 'mm';
  readonly weightHabit: 'oz' | 'g';
  readonly paper: 'A4' | 'Letter';
  readonly taxLabel: string;
  /** Prices are usually quoted with the tax in them. */
  readonly inclusive: boolean;
}

/**
 * Brings what is usual in a new country into what was filled in, and leaves alone what was changed by hand.
 * @returns the values that are to change
 */
export const movedHabits = <T extends object>(
  filled: T,
  was: Partial<T>,
  now: Partial<T>,
): { readonly [K in keyof T]?: T[K] } => {
  const keys = Object.keys(now) as (keyof T)[];
  const kept = keys.filter((key) => filled[key] === was[key] && now[key] !== was[key]);
  return Object.fromEntries(kept.map((key) => [key, now[key]])) as { readonly [K in keyof T]?: T[K] };
};

/** A first guess from the language of the machine, e.g. `en-US`; everything in it can be changed. */
export const habitsOf = (language: string): Habits => {
  const region = new Intl.Locale(language).maximize().region ?? 'US';
  const country = codes.includes(region) ? region : 'US';
  const american = country === 'US';
  return {
    country,
    currency: euro.includes(country) ? 'EUR' : (currencyOfCountry[country] ?? 'USD'),
    lengthHabit: american || country === 'CA' ? 'inch' : 'mm',
    weightHabit: american ? 'oz' : 'g',
    paper: letterPaper.includes(country) ? 'Letter' : 'A4',
    taxLabel: taxNames[country] ?? 'VAT',
    inclusive: !american && country !== 'CA',
  };
};
