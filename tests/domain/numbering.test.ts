import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatNumber, nextNumber, parseNumber, validatePattern } from '../../electron/domain/numbering.ts';
import { sentence, value } from './figures.ts';

const day = '2024-08-06';

describe('invoice numbers', () => {
  it('are written from a pattern', () => {
    expect(value(formatNumber('{YYYY}-{NNNN}', { counter: 7, day }))).toBe('2024-0007');
    expect(value(formatNumber('SE/{YY}/{MM}-{NNN}', { counter: 1234, day }))).toBe('SE/24/08-1234');
    expect(value(formatNumber('{N}', { counter: 12, day }))).toBe('12');
    expect(value(validatePattern('{YYYY}-{NNNN}', day))).toBe('2024-0001');
  });

  it('are read back', () => {
    expect(value(parseNumber('{YYYY}-{NNNN}', '2024-0007'))).toEqual({ counter: 7, year: 2024 });
    expect(value(parseNumber('SE/{YY}/{MM}-{NNN}', 'SE/24/08-1234'))).toEqual({
      counter: 1234,
      year: 24,
      month: 8,
    });
    expect(sentence(parseNumber('{YYYY}-{NNNN}', '2024-007'))).toBe(
      '“2024-007” does not follow the pattern {YYYY}-{NNNN}.',
    );
    expect(sentence(parseNumber('A.{NN}', 'Ax07'))).toContain('does not follow');
    expect(sentence(parseNumber('{NN}', '00'))).toContain('does not follow');
  });

  it('go on from the highest of the year or month and begin again after it', () => {
    const issued = ['2024-0001', '2024-0003', '2023-0099', 'other', '2024-9'];
    expect(value(nextNumber('{YYYY}-{NNNN}', day, issued))).toBe('2024-0004');
    expect(value(nextNumber('{YYYY}-{NNNN}', '2025-01-01', issued))).toBe('2025-0001');
    expect(value(nextNumber('{YY}{MM}-{NN}', day, ['2408-99', '2407-100']))).toBe('2408-100');
    expect(value(nextNumber('{NNN}', day, []))).toBe('001');
  });

  it('follow one another without a gap and never twice', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('{YYYY}-{NNNN}', '{YY}-{MM}-{N}', 'K-{NN}'),
        fc.integer({ min: 1, max: 150 }),
        (pattern, count) => {
          const issued: string[] = [];
          for (let at = 1; at <= count; at += 1) {
            const next = value(nextNumber(pattern, day, issued));
            expect(value(parseNumber(pattern, next)).counter).toBe(at);
            issued.push(next);
          }
          expect(new Set(issued).size).toBe(count);
        },
      ),
      { numRuns: 20 },
    );
  });
});

describe('patterns that cannot be used', () => {
  it.each([
    ['', 'Enter a pattern, for example {YYYY}-{NNNN}.'],
    [
      '{YYYY}',
      'The pattern needs the counter, for example {NNNN}: without it every invoice would have the same number.',
    ],
    ['{N}-{NN}', 'The pattern may hold the counter only once.'],
    ['{YY}-{YYYY}-{N}', 'The pattern may hold the year and the month only once each.'],
    ['{MM}-{N}', 'A pattern with the month needs the year too, or numbers would repeat next year.'],
    [
      '{YYYY}{NNN}',
      'Put a sign such as - between the counter and other digits, so that the number can be read back.',
    ],
    [
      '20{NNN}',
      'Put a sign such as - between the counter and other digits, so that the number can be read back.',
    ],
    [' {N}', 'The pattern must not begin or end with a space.'],
    [
      '{DD}-{N}',
      '“{DD}” cannot stand in the pattern. Use {YYYY}, {YY}, {MM}, {NNNN}, letters, digits and - . _ /.',
    ],
    ['{N', '“{” cannot stand in the pattern. Use {YYYY}, {YY}, {MM}, {NNNN}, letters, digits and - . _ /.'],
    [
      '<{N}>',
      '“<” cannot stand in the pattern. Use {YYYY}, {YY}, {MM}, {NNNN}, letters, digits and - . _ /.',
    ],
  ])('refuses “%s”', (pattern, wanted) => {
    expect(sentence(validatePattern(pattern))).toBe(wanted);
    expect(sentence(nextNumber(pattern, day, []))).toBe(wanted);
    expect(sentence(parseNumber(pattern, '1'))).toBe(wanted);
  });

  it('refuses a counter below one', () => {
    expect(sentence(formatNumber('{N}', { counter: 0, day }))).toBe('Numbers begin at 1.');
  });
});
