/**
 * The tables the half year must reproduce, in cents and minutes: per knife what went in and what it brought.
 * Source: the invented demo workshop's own scenario, tables of builds and sales; every figure came out of another program.
 */
export interface Expected {
  readonly serial: string;
  readonly minutes: number;
  readonly mat: string;
  readonly cons: string;
  readonly energy: string;
  readonly pack: string;
  readonly sale: {
    readonly on: string;
    readonly price: string;
    readonly charged: string;
    readonly paid: string;
    readonly tax: string;
    readonly fee: string;
    readonly direct: string;
    readonly contribution: string;
    readonly perHour: string;
  } | null;
}

const builds = `
W01 410 20.98 13.64 0.75
W02 395 20.98 13.64 0.75
W03 380 20.98 13.64 0.75
W04 1240 65.55 32.73 3.95
W05 1185 65.55 32.73 3.95
W06 665 38.68 22.11 0.80
W07 640 38.68 22.11 0.80
W08 595 49.38 19.11 0.85
W09 585 49.38 19.11 0.85
W10 555 49.38 19.11 0.85
W11 1145 65.55 32.73 3.95
W12 920 55.20 24.30 0.80
W13 365 20.98 13.64 0.75
W14 365 20.98 13.64 0.75
W15 975 53.95 33.63 1.05`;

const sales = `
2024-08-06 W01 150 12 12.05 0.00 5.00 42.17 102.78 15.04
2024-08-09 W02 150 12 12.05 0.00 5.00 42.17 102.78 15.61
2024-08-25 W03 150 12 12.05 10.53 5.30 42.17 102.48 16.18
2024-09-24 W04 540 18 23.59 0.00 16.48 109.03 408.90 19.79
2024-10-02 W05 540 18 23.59 0.00 16.48 109.03 408.90 20.70
2024-10-21 W06 325 18 21.23 22.30 10.89 68.39 242.49 21.88
2024-10-29 W07 325 18 21.23 0.00 10.25 68.39 243.13 22.79
2024-11-11 W08 265 12 13.32 0.00 8.33 76.14 179.21 18.07
2024-11-14 W09 265 12 13.32 0.00 8.33 76.14 179.21 18.38
2024-11-29 W10 265 48 46.20 0.00 14.07 76.14 176.59 19.09
2024-12-10 W11 540 18 23.59 0.00 16.79 109.03 408.59 21.41
2024-12-12 W12 420 18 22.27 28.47 14.13 87.10 314.50 20.51
2024-12-30 W13 150 12 12.05 0.00 5.00 42.17 102.78 16.90`;

const rowsOf = (text: string): readonly (readonly string[])[] =>
  text
    .trim()
    .split('\n')
    .map((line) => line.split(' '));

const saleOf = (serial: string): Expected['sale'] => {
  const row = rowsOf(sales).find(([, of]) => of === serial);
  if (row === undefined) return null;
  const [
    on = '',
    ,
    price = '',
    charged = '',
    paid = '',
    tax = '',
    fee = '',
    direct = '',
    contribution = '',
    perHour = '',
  ] = row;
  const whole = (text: string): string => `${text}.00`;
  return { on, price: whole(price), charged: whole(charged), paid, tax, fee, direct, contribution, perHour };
};

/** Every knife begun in 2024. */
export const expected: readonly Expected[] = rowsOf(builds).map(
  ([serial = '', minutes = '', mat = '', cons = '', energy = '']) => {
    const sale = saleOf(serial);
    return {
      serial,
      minutes: Number(minutes),
      mat,
      cons,
      energy,
      pack: sale === null ? '0.00' : '6.80',
      sale,
    };
  },
);
