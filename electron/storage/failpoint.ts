/** Named steps at which the crash tests end the process, to see what a power cut there would leave behind. */

/**
 * Ends this process at once, without any clean-up, when the test asked for this step.
 * Inert unless `NODE_ENV` is `test` and `KNIFEWRIGHT_FAILPOINT` names the step.
 */
export function failpoint(step: string): void {
  if (process.env['NODE_ENV'] !== 'test' || process.env['KNIFEWRIGHT_FAILPOINT'] !== step) return;
  process.kill(process.pid, 'SIGKILL');
  // The signal is asynchronous; nothing after the failpoint may run.
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
}
