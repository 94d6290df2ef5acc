/** A check while it is being written, for one knife or a batch. */
import type { HardnessScale, Measure, Verdict } from '../../../electron/api/gates.ts';
import { aboutGate, comparable, isWithin } from '../../../electron/domain/gates.ts';

export interface KnifeToCheck {
  readonly id: string;
  readonly serial: string;
  readonly title: string;
}

/** What is asked for, as the gate says it. */
export interface Asking {
  readonly low: number | null;
  readonly high: number | null;
  readonly target: number | null;
}

export interface CheckDraft {
  readonly knife: KnifeToCheck;
  /** One for each place, or for each dent. */
  values: (number | undefined)[];
  /** Undefined until one is chosen or proposed. */
  verdict: Verdict | undefined;
  /** True once the person chose; then no reading changes it. */
  chosen: boolean;
  note: string;
}

const DENTS = 3;

/** How many fields a gate shows, and what each is called. */
export const fieldsOf = (measure: Measure): readonly string[] => {
  const { unit, places } = aboutGate(measure);
  if (unit === null) return [];
  if (places.length > 0) return places;
  return measure === 'hardness'
    ? Array.from({ length: DENTS }, (_, at) => `dent ${String(at + 1)}`)
    : ['measured'];
};

export const blankCheck = (knife: KnifeToCheck, measure: Measure): CheckDraft => ({
  knife,
  values: fieldsOf(measure).map(() => undefined),
  verdict: undefined,
  chosen: false,
  note: '',
});

const written = (draft: CheckDraft): number[] => draft.values.filter((value) => value !== undefined);

/** Pass when every reading lies within what is asked; nothing is proposed otherwise. */
export const proposed = (
  draft: CheckDraft,
  measure: Measure,
  asked: Asking | null,
  scale: HardnessScale,
): Verdict | undefined => {
  if (asked === null) return undefined;
  const { values, problem } = comparable(measure, written(draft), scale);
  return problem === null && isWithin(values, asked) === true ? 'pass' : undefined;
};

/** True where a reading lies outside what is asked. */
export const isOutside = (
  draft: CheckDraft,
  measure: Measure,
  asked: Asking | null,
  scale: HardnessScale,
): boolean => asked !== null && isWithin(comparable(measure, written(draft), scale).values, asked) === false;

/** A row nobody touched is left out. */
export const isTouched = (draft: CheckDraft): boolean =>
  draft.verdict !== undefined || written(draft).length > 0;

/** What the contract takes for one knife. */
export const checkInput = (draft: CheckDraft, measure: Measure, scale: HardnessScale) => {
  const { places } = aboutGate(measure);
  const readings = draft.values.flatMap((value, at) =>
    value === undefined ? [] : [{ place: places[at] ?? '', value }],
  );
  return {
    buildId: draft.knife.id,
    readings,
    scale: measure === 'hardness' && readings.length > 0 ? scale : null,
    note: draft.note,
  };
};
