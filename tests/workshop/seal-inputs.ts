/** Makes the smallest input a schema of the contract takes, with a day put where a test wants it. */
import type { z } from 'zod';
import type { Way } from '../../electron/workshop/closed/day-fields.ts';

interface Definition {
  readonly type: string;
  readonly shape?: Readonly<Record<string, z.core.$ZodType>>;
  readonly element?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  readonly innerType?: z.core.$ZodType;
  readonly in?: z.core.$ZodType;
  readonly entries?: Readonly<Record<string, string>>;
  readonly values?: readonly unknown[];
}

const texts = [
  '2024-12-20',
  '2024-12-20T10:00:00.000Z',
  '2024-12',
  'some words',
  'AAAA',
  'US',
  'USD',
  'HND',
  'en',
  '#112233',
  '1',
];
const numbers = [1, 0, 2, 60, 2024, 1000, 100_000, -1];

const isGood = (schema: z.core.$ZodType, value: unknown): boolean =>
  (schema as z.ZodType).safeParse(value).success;

const isMissing = (schema: z.core.$ZodType): boolean => isGood(schema, undefined);

function objectOf({ shape = {} }: Definition, way: Way | undefined, day: string): unknown {
  const [next, ...rest] = way ?? [];
  const members = Object.entries(shape).map(([name, each]) => {
    const on = name === next;
    return [name, !on && isMissing(each) ? undefined : sample(each, on ? rest : undefined, day)] as const;
  });
  return Object.fromEntries(members.filter(([, value]) => value !== undefined));
}

function listOf(schema: z.core.$ZodType, def: Definition, way: Way | undefined, day: string): unknown {
  const [next, ...rest] = way ?? [];
  if (def.element === undefined || (next !== '*' && isGood(schema, []))) return [];
  return [sample(def.element, next === '*' ? rest : undefined, day)];
}

function eitherOf(schema: z.core.$ZodType, def: Definition, way: Way | undefined, day: string): unknown {
  const made = (def.options ?? []).map((option) => sample(option, way, day));
  return made.find((value) => isGood(schema, value)) ?? made[0];
}

function textOf(schema: z.core.$ZodType, way: Way | undefined, day: string): string | undefined {
  if (way?.length === 0) return isGood(schema, day) ? day : `${day}T10:00:00.000Z`;
  return texts.find((text) => isGood(schema, text));
}

/** @param way where the day goes; an empty one where it goes nowhere below this schema */
export function sample(schema: z.core.$ZodType, way: Way | undefined, day: string): unknown {
  const def = schema._zod.def as unknown as Definition;
  switch (def.type) {
    case 'object':
      return objectOf(def, way, day);
    case 'array':
      return listOf(schema, def, way, day);
    case 'union':
      return eitherOf(schema, def, way, day);
    case 'enum':
      return Object.values(def.entries ?? {})[0];
    case 'literal':
      return def.values?.[0];
    case 'boolean':
      return true;
    case 'string':
      return textOf(schema, way, day);
    case 'number':
      return numbers.find((number) => isGood(schema, number));
    case 'record':
      return {};
    default: {
      const inner = def.innerType ?? def.in;
      return inner === undefined ? null : sample(inner, way, day);
    }
  }
}
