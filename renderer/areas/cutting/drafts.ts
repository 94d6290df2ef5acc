/** What is typed on the cutting screens, and what it asks for. */

/** Stands for "no knife" in a choice list. */
export const SPARE = 'spare';

/** A kind of blank or piece typed by hand. */
export interface Extra {
  readonly id: number;
  label: string;
  count: number | undefined;
  length: number | undefined;
  width: number | undefined;
  mayTurn: boolean;
  /** A knife, or `SPARE`. */
  buildId: string;
}

export const newExtra = (id: number): Extra => ({
  id,
  label: '',
  count: 1,
  length: undefined,
  width: undefined,
  mayTurn: true,
  buildId: SPARE,
});

/** The contract's limit for one plan. */
const MOST = 200;

interface Wish {
  readonly key: string;
  readonly buildId: string | null;
  readonly label: string;
  readonly extra: Extra;
}

/** One wish per piece of every line that is filled in. @param serialOf names a knife */
const wishesOf = (extras: readonly Extra[], serialOf: (buildId: string) => string): readonly Wish[] =>
  extras
    .flatMap((extra) =>
      Array.from({ length: Math.min(MOST, extra.count ?? 0) }, (_, at): Wish => {
        const knife = extra.buildId === SPARE ? '' : serialOf(extra.buildId);
        const label = [extra.label, knife].filter((part) => part !== '').join(', ');
        return {
          key: `x${String(extra.id)}-${String(at)}`,
          buildId: extra.buildId === SPARE ? null : extra.buildId,
          label: label === '' ? 'Spare' : label,
          extra,
        };
      }),
    )
    .slice(0, MOST);

/** Blanks of the lines that have a length. */
export const extraBlanks = (extras: readonly Extra[], serialOf: (buildId: string) => string) =>
  wishesOf(extras, serialOf).flatMap(({ extra, ...wish }) =>
    extra.length === undefined || extra.length <= 0 ? [] : [{ ...wish, length: extra.length }],
  );

/** Pieces of the lines that have both sizes. */
export const extraPieces = (extras: readonly Extra[], serialOf: (buildId: string) => string) =>
  wishesOf(extras, serialOf).flatMap(({ extra, ...wish }) => {
    const { length, width, mayTurn } = extra;
    if (length === undefined || width === undefined || length <= 0 || width <= 0) return [];
    return [{ ...wish, lengthNm: length, widthNm: width, mayTurn }];
  });
