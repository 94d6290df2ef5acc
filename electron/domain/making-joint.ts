/** One cost, several products: what each would earn by the share it is given. */
import { allocate, mulDiv } from './integers.ts';

/** A product split off one raw lot. */
export interface SplitOff {
  /** Quantity in whatever unit all of them share. */
  readonly qty: number;
  /** What it sells for at the moment it is split off, in the scale of the cost. */
  readonly salesValue: number;
}

/** By what the joint cost is shared. */
export type JointKey = 'physical' | 'salesValue';

/** Shares of a joint cost that add up to it exactly. */
export const jointShares = (cost: number, products: readonly SplitOff[], key: JointKey): number[] =>
  allocate(
    cost,
    products.map((one) => (key === 'physical' ? one.qty : one.salesValue)),
  );

/** Sales value less the share of the cost, product by product; by sales value all earn the same rate. */
export const jointMargins = (cost: number, products: readonly SplitOff[], key: JointKey): number[] => {
  const shares = jointShares(cost, products, key);
  return products.map((one, at) => one.salesValue - (shares[at] ?? 0));
};

/** Cost of one unit when it is shared by quantity. @param perQty quantity of one unit */
export const jointUnitCost = (cost: number, products: readonly SplitOff[], perQty: number): number =>
  mulDiv(
    cost,
    perQty,
    products.reduce((so, one) => so + one.qty, 0),
  );
