/** Checking what a caller sent against the contract, and saying what is wrong in plain words. */
import type { z } from 'zod';
import type { Endpoint } from '../api/endpoint.ts';
import { type Fault, invalid } from '../api/errors.ts';

type Issue = z.core.$ZodRawIssue;

const kinds: Readonly<Record<string, string>> = {
  string: 'Write some text here.',
  number: 'Write a number here.',
  int: 'Write a whole number here.',
  boolean: 'Choose yes or no.',
  array: 'Give a list here.',
  object: 'Fill this part in.',
};

function limitSentence(issue: Issue & { code: 'too_small' | 'too_big' }): string {
  const small = issue.code === 'too_small';
  const limit = String(small ? issue.minimum : issue.maximum);
  if (issue.origin === 'string') {
    return small ? `Write at least ${limit} characters.` : `Keep this to ${limit} characters.`;
  }
  if (issue.origin === 'array') return small ? `Give at least ${limit}.` : `Give at most ${limit}.`;
  const edge =
    issue.inclusive === false ? (small ? 'more than' : 'less than') : small ? 'at least' : 'at most';
  return `Write a number of ${edge} ${limit}.`;
}

/** A sentence for each kind of issue; a schema's own message always comes first. */
function sentence(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      if (issue.input === undefined) return 'This is missing. Fill it in.';
      return kinds[issue.expected] ?? 'This is not what is needed here.';
    case 'too_small':
    case 'too_big':
      return limitSentence(issue);
    case 'invalid_value':
      return `Choose one of: ${issue.values.map(String).join(', ')}.`;
    case 'unrecognized_keys':
      return `This is not known here: ${issue.keys.join(', ')}. Leave it out.`;
    case 'not_multiple_of':
      return `Write a multiple of ${String(issue.divisor)}.`;
    default:
      return 'This is not written the way it is needed here.';
  }
}

/** What checking an input leads to. */
export type Checked =
  { readonly ok: true; readonly input: unknown } | { readonly ok: false; readonly fault: Fault };

/** Parses an input with the endpoint's schema; the first thing wrong becomes the fault, with its field. */
export function checkInput(endpoint: Endpoint, input: unknown): Checked {
  const parsed = endpoint.input.safeParse(input, { error: sentence });
  if (parsed.success) return { ok: true, input: parsed.data };
  const first = parsed.error.issues[0];
  const field = first?.path.map(String).join('.');
  return {
    ok: false,
    fault: invalid(first?.message ?? 'Check what you entered.', field === '' ? undefined : field).fault,
  };
}
