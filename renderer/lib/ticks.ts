/** A beat for what shows passing time, the same for every part of a screen, so that no two of them disagree. */

const beatMs = 15_000;

/**
 * Runs something at each full quarter of a minute.
 * @returns takes it off again
 */
export const onTick = (run: () => void): (() => void) => {
  let timer = 0;
  const arm = (): void => {
    timer = window.setTimeout(
      () => {
        run();
        arm();
      },
      beatMs - (Date.now() % beatMs) + 20,
    );
  };
  arm();
  return () => clearTimeout(timer);
};
