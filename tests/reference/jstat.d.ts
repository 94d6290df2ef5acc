/** The little of the library that the tests hold figures against; it ships no types. */
declare module 'jstat' {
  const jstat: {
    readonly beta: { readonly inv: (p: number, alpha: number, beta: number) => number };
    readonly studentt: {
      readonly cdf: (t: number, df: number) => number;
      readonly inv: (p: number, df: number) => number;
    };
  };
  export = jstat;
}
