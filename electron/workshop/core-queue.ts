/** Work that must not overlap, done in the order it came. */

export interface Queue {
  /** Runs work when everything added before it has ended, well or badly. */
  add<T>(work: () => T | Promise<T>): Promise<T>;
}

/** Makes an empty queue. */
export function inTurn(): Queue {
  let last: Promise<unknown> = Promise.resolve();
  return {
    add(work) {
      const mine = last.then(work, work);
      last = mine.catch(() => undefined);
      return mine;
    },
  };
}
