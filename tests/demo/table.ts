/**
 * The tables the demo workshop must reproduce, in cents and minutes: per knife what went in and what it brought.
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
W15 975 53.95 33.63 1.05
W16 545 49.38 19.11 0.85
W17 535 49.38 19.11 0.85
W18 535 49.38 19.11 0.85
W19 1120 65.55 32.73 3.95
W20 1095 65.55 32.73 3.95
W21 885 55.20 24.30 0.80
W22 590 38.68 22.11 0.80
W23 365 20.98 13.64 0.75
W24 365 21.23 13.64 0.75
W25 920 53.95 33.63 1.05
W26 1060 53.95 34.15 1.05
W27 1030 65.55 30.77 3.95
W28 665 6.08 23.42 3.95
W29 1055 106.67 36.39 3.60
W30 1045 106.67 36.39 3.60
W31 985 65.96 30.77 3.95
W32 1015 92.76 28.47 3.30
W33 535 49.38 19.11 0.85
W34 550 49.38 19.11 0.85
W35 825 55.40 22.92 0.80
W36 365 21.23 13.64 0.75
W37 330 21.23 13.64 0.75
W38 840 54.62 33.63 1.05
W39 985 65.96 30.77 3.95
W40 550 38.88 22.11 0.80
W41 520 49.76 19.11 0.85
W42 255 6.08 6.72 3.95
W43 175 7.88 10.50 0.85
W44 150 4.25 8.87 0.75
W45 190 13.67 9.39 1.05`;

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
2024-12-30 W13 150 12 12.05 0.00 5.00 42.17 102.78 16.90
2025-01-07 W14 150 12 12.05 0.00 5.00 42.17 102.78 16.90
2025-01-19 W15 480 18 22.93 0.00 14.74 95.43 364.90 22.46
2025-03-14 W19 540 18 23.59 0.00 16.48 109.03 408.90 21.91
2025-03-14 W20 540 18 23.59 0.00 16.48 109.03 408.90 22.41
2025-03-14 W16 265 12 13.32 0.00 8.33 76.14 179.21 19.73
2025-03-15 W21 420 18 22.27 28.47 13.83 87.10 314.80 21.34
2025-03-15 W17 265 12 13.32 0.00 8.33 76.14 179.21 20.10
2025-03-16 W23 150 12 12.05 0.00 5.00 42.17 102.78 16.90
2025-03-16 W22 325 18 21.23 0.00 10.25 68.39 243.13 24.73
2025-03-18 W18 265 12 13.32 0.00 8.33 76.14 179.21 20.10
2025-03-25 W24 150 12 12.05 0.00 5.00 42.42 102.53 16.85
2025-05-20 W26 560 18 23.81 0.00 17.36 95.95 440.88 24.96
2025-05-28 W27 540 48 46.20 0.00 26.17 107.07 408.56 23.80
2025-06-09 W25 510 18 23.26 34.32 16.61 95.43 392.70 25.61
2025-07-08 W31 540 18 23.59 0.00 16.78 107.48 410.15 24.98
2025-07-10 W29 1280 18 31.73 0.00 38.24 153.46 1074.57 61.11
2025-08-14 W35 420 18 22.27 0.00 13.30 85.92 316.51 23.02
2025-08-20 W34 185 12 12.44 0.00 6.01 76.14 102.41 11.17
2025-10-17 W30 1350 18 32.50 0.00 39.97 153.46 1142.07 65.57
2025-10-17 W39 590 18 24.14 39.52 19.08 107.48 457.30 27.86
2025-10-17 W33 285 12 13.54 0.00 8.91 76.14 198.41 22.25
2025-10-18 W32 780 18 26.23 0.00 23.44 131.33 617.00 36.47
2025-10-19 W36 165 12 12.22 0.00 5.43 42.42 116.93 19.22
2025-10-21 W41 285 12 13.54 0.00 8.91 76.52 198.03 22.85`;

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

/** Every knife begun in 2024 and 2025. */
export const allExpected: readonly Expected[] = rowsOf(builds).map(
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

/** Every knife begun in 2024, as the half year ends: what was sold later is still there. */
export const expected: readonly Expected[] = allExpected
  .filter((of) => of.serial <= 'W15')
  .map((of) => (of.sale !== null && of.sale.on > '2024-12-31' ? { ...of, pack: '0.00', sale: null } : of));
