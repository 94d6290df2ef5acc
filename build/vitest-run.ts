/** Runs once around all tests: clears away what their files shared. */
import { rmSync } from 'node:fs';
import { runFolder } from '../tests/folders.ts';

export const teardown = (): void => rmSync(runFolder(), { recursive: true, force: true });
