/** An option while it is being written. */
export interface OptionDraft {
  readonly key: number;
  /** The model's option it was taken from; null where it was written by hand. */
  readonly optionId: string | null;
  name: string;
  priceMinor: number | undefined;
}

let nextKey = 1;

export const blankOption = (): OptionDraft => ({
  key: nextKey++,
  optionId: null,
  name: '',
  priceMinor: undefined,
});

/** An option known before. */
export const optionDraftOf = (option: {
  readonly optionId?: string | null;
  readonly name: string;
  readonly priceMinor: number;
}): OptionDraft => ({
  key: nextKey++,
  optionId: option.optionId ?? null,
  name: option.name,
  priceMinor: option.priceMinor,
});

const written = (option: OptionDraft): boolean =>
  option.name.trim() !== '' || option.priceMinor !== undefined;

/** Without the lines nobody wrote in. */
export const writtenOptions = (options: readonly OptionDraft[]): OptionDraft[] => options.filter(written);
