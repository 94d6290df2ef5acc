/** A firing while it is being written: gas or current, measured or by habit. */
import type { Input } from '../../../electron/api/contract.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export type Way = 'weight' | 'hours' | 'oven' | 'meter';

export const wayWords: Readonly<Record<Way, string>> = {
  oven: 'Current, by the oven’s watts and the time',
  meter: 'Current, by the meter',
  hours: 'Gas, by the hours of fire',
  weight: 'Gas, by weighing the cylinder',
};

export interface Firing {
  way: Way;
  fireId: string;
  itemId: string;
  minutes: number | undefined;
  burnRateNg: number | undefined;
  beforeNg: number | undefined;
  afterNg: number | undefined;
  wattHours: number | undefined;
}

export const blankFiring = (way: Way, fireId: string): Firing => ({
  way,
  fireId,
  itemId: '',
  minutes: undefined,
  burnRateNg: undefined,
  beforeNg: undefined,
  afterNg: undefined,
  wattHours: undefined,
});

/** Whom it is booked on. */
export type ForWhom = Pick<Input<'fires.gas'>, 'on' | 'shares' | 'makingId' | 'note'>;

const given = <K extends string, V>(key: K, value: V | undefined): Partial<Record<K, V>> =>
  value === undefined ? {} : ({ [key]: value } as Record<K, V>);

export const gasInput = (firing: Firing, whom: ForWhom): Input<'fires.gas'> => ({
  ...whom,
  itemId: firing.itemId,
  how: firing.way === 'weight' ? 'weight' : 'hours',
  ...given('beforeNg', firing.beforeNg),
  ...given('afterNg', firing.afterNg),
  ...given('fireMinutes', firing.minutes),
  ...given('burnRateNg', firing.burnRateNg),
});

export const currentInput = (firing: Firing, whom: ForWhom): Input<'fires.current'> =>
  firing.way === 'meter'
    ? {
        ...whom,
        ...(firing.fireId === '' ? {} : { fireId: firing.fireId }),
        wattHours: firing.wattHours ?? missingNumber,
      }
    : {
        ...whom,
        ...(firing.fireId === '' ? {} : { fireId: firing.fireId }),
        ...given('minutes', firing.minutes),
      };
