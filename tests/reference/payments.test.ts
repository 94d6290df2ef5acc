/** Account numbers, payment references and payment codes against published examples. */
import fc from 'fast-check';
import { extractIBAN, isValidBIC, isValidIBAN } from 'ibantools';
import { describe, expect, it } from 'vitest';
import { contrast } from '../../electron/domain/contrast.ts';
import { epcBytes, epcText, type Transfer } from '../../electron/domain/epc.ts';
import { inFours, isBic, isIban } from '../../electron/domain/iban.ts';
import { checkDigits97, mod97 } from '../../electron/domain/mod97.ts';
import { isReference, referenceOf } from '../../electron/domain/payment-reference.ts';

describe('account numbers (ISO 13616)', () => {
  // Source: examples of the IBAN registry, read in public test suites; remainders recomputed.
  it.each([
    'GB29 NWBK 6016 1331 9268 19',
    'DE89 3704 0044 0532 0130 00',
    'CH93 0076 2011 6238 5295 7',
    'BE68 5390 0754 7034',
    'FR14 2004 1010 0505 0001 3M02 606',
    'SE45 5000 0000 0583 9825 7466',
  ])('takes %s and no neighbour of it', (typed) => {
    expect(isIban(typed)).toBe(true);
    expect(inFours(typed.replaceAll(' ', ''))).toBe(typed);
    expect(isIban(typed.toLowerCase())).toBe(true);
    const plain = typed.replaceAll(' ', '');
    for (let at = 4; at < plain.length; at += 1) {
      const digit = plain[at] ?? '';
      const other = /\d/.test(digit) ? String((Number(digit) + 1) % 10) : digit === 'Z' ? 'A' : 'Z';
      expect(isIban(plain.slice(0, at) + other + plain.slice(at + 1))).toBe(false);
    }
  });

  it('finds the remainder 9 of a number with wrong check digits', () => {
    // Source: read in a public test suite, recomputed.
    expect(mod97('370400440532013000DE00')).toBe(9);
    expect(isIban('DE00 3704 0044 0532 0130 00')).toBe(false);
    expect(isIban('')).toBe(false);
    expect(isIban('DE')).toBe(false);
    expect(() => mod97('é')).toThrow(RangeError);
  });

  it('agrees with ibantools on numbers of any digits', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^\d{18}$/), fc.boolean(), (account, spoil) => {
        const check = checkDigits97('DE', account);
        const iban = `DE${spoil ? String((Number(check) + 1) % 100).padStart(2, '0') : check}${account}`;
        expect(isIban(iban)).toBe(isValidIBAN(iban));
        expect(isIban(iban)).toBe(extractIBAN(iban).valid);
      }),
      { numRuns: 200 },
    );
    for (const bic of ['NWBKGB2L', 'DEUTDEFF500', 'DEUTDE', 'DEUTDEFF5', 'XXXX'])
      expect(isBic(bic)).toBe(isValidBIC(bic));
  });
});

describe('payment references (ISO 11649)', () => {
  // Source: the same example in at least five public test suites; check digits recomputed as 98 − remainder.
  it('gives 539007547034 the check digits 18', () => {
    expect(referenceOf('5390-0754-7034')).toBe('RF18539007547034');
    expect(inFours('RF18539007547034')).toBe('RF18 5390 0754 7034');
  });

  it('takes a reference padded with zeros or in small letters, and no other digit in it', () => {
    expect(isReference('RF18000000000539007547034')).toBe(true);
    expect(isReference('rf18 5390 0754 7034')).toBe(true);
    expect(isReference('RF18 5390 0754 7035')).toBe(false);
    expect(isReference('RF19 5390 0754 7034')).toBe(false);
  });

  it('makes a true reference of any invoice number it can hold, else none', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Za-z0-9/ -]{1,30}$/), (number) => {
        const reference = referenceOf(number);
        const letters = number.replaceAll(/[^A-Za-z0-9]/g, '').length;
        expect(reference !== null).toBe(letters > 0 && letters <= 21);
        if (reference !== null) expect(isReference(reference)).toBe(true);
      }),
      { numRuns: 200 },
    );
    expect(referenceOf('№ — /')).toBeNull();
  });
});

describe('payment code of a euro transfer (EPC069-12 v2.1)', () => {
  // Source: example 2 of the guideline, as the published tests of a QR library cite it; bytes recomputed.
  const example: Transfer = {
    name: "François D'Alsace S.A.",
    iban: 'FR1420041010050500013M02606',
    bic: '',
    amount: '12.30',
    purpose: '',
    reference: '',
    text: 'Client:Marie Louise La Lune',
  };

  it('writes the guideline’s second example, 103 bytes in ISO 8859-1', () => {
    const made = epcText(example, 2);
    const expected =
      "BCD\n002\n2\nSCT\n\nFrançois D'Alsace S.A.\nFR1420041010050500013M02606\nEUR12.3\n\n\nClient:Marie Louise La Lune";
    expect(made).toEqual({ ok: true, value: expected });
    expect(epcBytes(expected, 2)).toBe(103);
    expect(epcBytes(expected, 2)).toBe(Buffer.from(expected, 'latin1').length);
    expect(epcBytes(expected, 1)).toBe(Buffer.from(expected).length);
  });

  const lineOf = (transfer: Partial<Transfer>, at: number): string | undefined => {
    const made = epcText({ ...example, ...transfer });
    return made.ok ? made.value.split('\n')[at] : undefined;
  };

  it.each([
    ['1000', 'EUR1000'],
    ['1000.00', 'EUR1000'],
    ['5.00', 'EUR5'],
    ['0.01', 'EUR0.01'],
    ['999999999.99', 'EUR999999999.99'],
  ])('writes %s as %s', (amount, text) => expect(lineOf({ amount }, 7)).toBe(text));

  it.each(['0', '0.00', '0.004', '999999999.999', '9999999990.99', '-1', '1,5', 'x'])(
    'refuses the amount %s',
    (amount) => expect(epcText({ ...example, amount }).ok).toBe(false),
  );

  it('refuses what the guideline does not allow, and drops empty lines at the end', () => {
    const refused: Partial<Transfer>[] = [
      { name: '' },
      { name: 'x'.repeat(71) },
      { text: 'x'.repeat(141) },
      { purpose: 'ABCDE' },
      { bic: 'DEUTDEF' },
      { reference: 'RF18539007547034' },
      { reference: 'RF19539007547034', text: '' },
      { iban: 'FR1420041010050500013M02607' },
      // 70 and 140 letters of three bytes each are more than 331 bytes together.
      { name: '刀'.repeat(70), text: '刀'.repeat(140) },
    ];
    expect(refused.map((part) => epcText({ ...example, ...part }).ok)).toEqual(refused.map(() => false));
    expect(epcText({ ...example, name: 'Łącki' }, 2).ok).toBe(false);
    const short = epcText({ ...example, text: '' });
    expect(short.ok && short.value.endsWith('EUR12.3')).toBe(true);
    expect(lineOf({ reference: 'RF18 5390 0754 7034', text: '' }, 9)).toBe('RF18539007547034');
    expect(lineOf({ text: 'two\nlines' }, 10)).toBe('two lines');
  });
});

describe('contrast (WCAG 2.2)', () => {
  // Source: the definition gives 21 for black on white; #767676 is the well-known grey that just passes 4.5 (from memory).
  it('is 21 for black on white, and passes 4.5 from #767676 on', () => {
    expect(contrast('#000000', '#ffffff')).toBe(21);
    expect(contrast('#ffffff', '#ffffff')).toBe(1);
    expect(contrast('#767676', '#ffffff')).toBeGreaterThan(4.5);
    expect(contrast('#777777', '#ffffff')).toBeLessThan(4.5);
  });
});
