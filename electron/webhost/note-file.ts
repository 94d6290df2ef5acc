/** Where a running host leaves its note; apart from the rest, so that a start can look without loading it. */
import { join } from 'node:path';

/** The note's file in a workshop folder. */
export const noteFile = (folder: string): string => join(folder, 'loopback.json');
