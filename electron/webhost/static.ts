/** Answers requests for the files of the page; they hold no data of the workshop. */
import { readPageFile } from '../hosting/page-file.ts';
import { pageFileOf } from '../hosting/page-policy.ts';
import type { Outgoing } from './reply.ts';
import { refusalReply } from './reply.ts';

/** @param root folder of the built page; @param target path of the request as it was written */
export const staticReply = (root: string, target: string): Outgoing => {
  const file = pageFileOf(target);
  const found = file === undefined ? undefined : readPageFile(root, file);
  if (found === undefined) return refusalReply(404, 'There is nothing at this address.', 'missing');
  return { status: 200, type: found.type, body: found.bytes };
};
