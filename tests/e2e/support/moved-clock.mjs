/**
 * Loaded before a host under test and into each of its threads: its clock is ahead of the machine's
 * by the milliseconds written in the file KNIFEWRIGHT_TEST_CLOCK names, so that no test sits out a wait.
 */
import { readFileSync } from 'node:fs';

const file = process.env['KNIFEWRIGHT_TEST_CLOCK'] ?? '';
const machine = Date;
const now = () => machine.now() + Number(readFileSync(file, 'utf8'));

globalThis.Date = new Proxy(machine, {
  apply: () => new machine(now()).toString(),
  construct: (_, /** @type {[] | [number]} */ given) =>
    given.length === 0 ? new machine(now()) : new machine(...given),
  get: (_, name) => (name === 'now' ? now : /** @type {unknown} */ (Reflect.get(machine, name))),
});
