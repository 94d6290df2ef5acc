/**
 * Published yearly percentages of depreciation, in hundredths of a percent. Every row adds up to 100 %.
 * Source: IRS Publication 946, Appendix A: table A-1 (half-year), A-2 to A-5 (mid-quarter, by the quarter a thing was
 * placed in service), A-8 (straight line, half-year). The tables are for whole tax years of twelve months.
 */

/** Years of the recovery class. */
export type ClassYears = 3 | 5 | 7;

/** Which table: by the half-year, by the quarter of placing in service, or straight line by the half-year. */
export type Convention = 'halfYear' | 'q1' | 'q2' | 'q3' | 'q4' | 'straight';

const tables: Readonly<Record<Convention, Readonly<Record<ClassYears, readonly number[]>>>> = {
  halfYear: {
    3: [3333, 4445, 1481, 741],
    5: [2000, 3200, 1920, 1152, 1152, 576],
    7: [1429, 2449, 1749, 1249, 893, 892, 893, 446],
  },
  q1: {
    3: [5833, 2778, 1235, 154],
    5: [3500, 2600, 1560, 1101, 1101, 138],
    7: [2500, 2143, 1531, 1093, 875, 874, 875, 109],
  },
  q2: {
    3: [4167, 3889, 1414, 530],
    5: [2500, 3000, 1800, 1137, 1137, 426],
    7: [1785, 2347, 1676, 1197, 887, 887, 887, 334],
  },
  q3: {
    3: [2500, 5000, 1667, 833],
    5: [1500, 3400, 2040, 1224, 1130, 706],
    7: [1071, 2551, 1822, 1302, 930, 885, 886, 553],
  },
  q4: {
    3: [833, 6111, 2037, 1019],
    5: [500, 3800, 2280, 1368, 1094, 958],
    7: [357, 2755, 1968, 1406, 1004, 873, 873, 764],
  },
  straight: {
    3: [1667, 3333, 3333, 1667],
    5: [1000, 2000, 2000, 2000, 2000, 1000],
    7: [714, 1429, 1429, 1428, 1429, 1428, 1429, 714],
  },
};

/** The yearly shares of a class, in hundredths of a percent, the first year first. */
export const tableShares = (classYears: ClassYears, convention: Convention): readonly number[] =>
  tables[convention][classYears];
