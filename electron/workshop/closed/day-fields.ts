/** Which fields of a command's input say a day on which something was done, read off its schema. */
import type { z } from 'zod';

interface Definition {
  readonly type: string;
  readonly format?: string;
  readonly shape?: Readonly<Record<string, z.core.$ZodType>>;
  readonly element?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  readonly innerType?: z.core.$ZodType;
  readonly in?: z.core.$ZodType;
}

/** A way from the input to a field; `*` stands for every member of a list. */
export type Way = readonly string[];

function collect(schema: z.core.$ZodType, way: Way, found: Way[]): void {
  const def = schema._zod.def as unknown as Definition;
  if (def.type === 'string') {
    if (def.format === 'date' || def.format === 'datetime') found.push(way);
    return;
  }
  for (const [name, each] of Object.entries(def.shape ?? {})) collect(each, [...way, name], found);
  if (def.element !== undefined) collect(def.element, [...way, '*'], found);
  for (const option of def.options ?? []) collect(option, way, found);
  const inner = def.innerType ?? def.in;
  if (inner !== undefined) collect(inner, way, found);
}

/** Every day and instant an input may carry. */
export function dayFields(schema: z.core.$ZodType): readonly Way[] {
  const found: Way[] = [];
  collect(schema, [], found);
  const once = new Map(found.map((way) => [way.join('.'), way]));
  return [...once.values()];
}

/** The values a way leads to, each with its own path, e.g. `lines.2.on`. */
export function valuesAt(
  input: unknown,
  way: Way,
  path: readonly string[] = [],
): readonly (readonly [string, string])[] {
  const [first, ...rest] = way;
  if (first === undefined) return typeof input === 'string' ? [[path.join('.'), input]] : [];
  if (first === '*')
    return Array.isArray(input)
      ? input.flatMap((each, at) => valuesAt(each, rest, [...path, String(at)]))
      : [];
  if (typeof input !== 'object' || input === null) return [];
  const member = new Map<string, unknown>(Object.entries(input)).get(first);
  return valuesAt(member, rest, [...path, first]);
}
