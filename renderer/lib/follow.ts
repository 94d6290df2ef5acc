/** Reads values inside an effect, so that it runs again when one of them changes. */
export const follow = (..._values: readonly unknown[]): void => undefined;
