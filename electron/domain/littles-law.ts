/**
 * Little's law, L = λ·W (J. D. C. Little, 1961): how many are open, at which rate they are done, and how long one waits
 * belong together, whatever chance does. Rate and wait are of the same unit of time.
 */

/** How many are open at a rate when each waits so long. */
export const openAt = (rate: number, wait: number): number => rate * wait;

/** How long one waits when so many are open; infinite where nothing gets done. */
export const waitWith = (open: number, rate: number): number => (open === 0 ? 0 : open / rate);

/** The rate at which so many open ones wait so long. */
export const rateNeeded = (open: number, wait: number): number => open / wait;
