/** Reads and parses the body of a call within a limit. */
import type { IncomingMessage } from 'node:http';

export type BodyResult =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly status: number; readonly message: string };

const tooLong: BodyResult = { ok: false, status: 413, message: 'That is more than can be taken in at once.' };
const notJson: BodyResult = {
  ok: false,
  status: 400,
  message: 'That request was not put together correctly.',
};

const gather = async (req: IncomingMessage, limit: number): Promise<Buffer | undefined> => {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of req.iterator({ destroyOnReturn: false })) {
    const bytes = part as Buffer;
    size += bytes.byteLength;
    if (size > limit) return undefined;
    parts.push(bytes);
  }
  return Buffer.concat(parts);
};

const parse = (text: string): unknown => {
  // Only a body that could hold the name pays for the slow, watching parse.
  if (!/__proto__|\\u/i.test(text)) return JSON.parse(text);
  return JSON.parse(text, (key, value: unknown) => {
    if (key === '__proto__') throw new SyntaxError('a name that is not allowed');
    return value;
  });
};

/** @param limit bytes; one more and the body is refused while it is still coming in */
export const readJson = async (req: IncomingMessage, limit: number): Promise<BodyResult> => {
  const bytes = await gather(req, limit);
  if (bytes === undefined) return tooLong;
  try {
    return { ok: true, value: parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)) };
  } catch {
    return notJson;
  }
};
