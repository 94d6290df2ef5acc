/** Names of countries for addresses. */

const names = new Intl.DisplayNames('en', { type: 'region', fallback: 'code' });

/**
 * The English name of a country; the code itself where no name is known.
 * @param code ISO 3166-1, two capital letters
 */
export const countryName = (code: string): string => names.of(code) ?? code;

/**
 * The last line of an address that goes abroad: the country's English name in capitals, as the Universal Postal
 * Union's address guidelines ask for; the code itself where no name is known.
 * @param code ISO 3166-1, two capital letters
 */
export const countryLine = (code: string): string => countryName(code).toUpperCase();
