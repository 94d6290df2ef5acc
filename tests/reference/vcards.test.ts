/** vCards against the examples of RFC 6350 (vCard 4.0) and RFC 2426 (3.0), as those texts print them. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cardText, readCards, type Card } from '../../electron/domain/vcard.ts';

const card = (...lines: string[]): string =>
  ['BEGIN:VCARD', 'VERSION:4.0', ...lines, 'END:VCARD', ''].join('\r\n');
const read = (text: string): readonly Card[] => {
  const cards = readCards(text);
  if (!cards.ok) throw new Error(cards.message);
  return cards.value.map(({ line: _, ...rest }) => rest);
};
const blank: Card = {
  name: '',
  email: '',
  phone: '',
  address: '',
  city: '',
  region: '',
  postcode: '',
  country: '',
  language: '',
  note: '',
};

describe('a card is read as RFC 6350 means it', () => {
  it.each([
    // 6.2.1
    ['FN:Mr. John Q. Public\\, Esq.', { name: 'Mr. John Q. Public, Esq.' }],
    // 6.2.2
    ['N:Public;John;Quinlan;Mr.;Esq.', { name: 'Mr. John Quinlan Public Esq.' }],
    [
      'N:Stevenson;John;Philip,Paul;Dr.;Jr.,M.D.,A.C.P.',
      { name: 'Dr. John Philip, Paul Stevenson Jr., M.D., A.C.P.' },
    ],
    // 6.4.1
    [
      'TEL;VALUE=uri;PREF=1;TYPE="voice,home":tel:+1-555-555-5555;ext=5555',
      { phone: '+1-555-555-5555 ext. 5555' },
    ],
    // 6.4.2
    ['EMAIL;TYPE=work:jqpublic@xyz.example.com', { email: 'jqpublic@xyz.example.com' }],
    // 6.4.4
    ['LANG;TYPE=work;PREF=1:en', { language: 'en' }],
    // 6.7.2
    [
      'NOTE:This fax number is operational 0800 to 1715\r\n  EST\\, Mon-Fri.',
      { note: 'This fax number is operational 0800 to 1715 EST, Mon-Fri.' },
    ],
    // 3.2, folding
    [
      'NOTE:This is a long descrip\r\n tion that exists o\r\n n a long line.',
      { note: 'This is a long description that exists on a long line.' },
    ],
    // 4.1 of RFC 6350: escaped line breaks within a text
    [
      'NOTE:Mythical Manager\\nHyjinx Software Division\\nBabsCo\\, Inc.\\n',
      { note: 'Mythical Manager\nHyjinx Software Division\nBabsCo, Inc.' },
    ],
    // 6.3.1: a colon within a quoted parameter does not end it
    [
      'ADR;GEO="geo:12.3457,78.910";LABEL="Mr. John Q. Public, Esq.\\nMail Drop: TNE QB\\n123 Main Street\\nAny Town, CA  91921-1234\\nU.S.A.":;;123 Main Street;Any Town;CA;91921-1234;U.S.A.',
      {
        address: '123 Main Street',
        city: 'Any Town',
        region: 'CA',
        postcode: '91921-1234',
        country: 'U.S.A.',
      },
    ],
  ])('%s', (line, expected) => {
    expect(read(card(line))).toEqual([{ ...blank, ...expected }]);
  });

  it('3.0 too: groups, bare types and types in any case (RFC 2426, 3.2.1, 3.3.1, 3.3.2, 2.1.4)', () => {
    const text = [
      'begin:vcard',
      'VERSION:3.0',
      'FN:Mr. John Q. Public\\, Esq.',
      'item1.ADR;TYPE=dom,home,postal,parcel:;;123 Main Street;Any Town;CA;91921-1234',
      'TEL;TYPE=work,voice,msg:555 555 0100',
      'TEL;TYPE=work,voice,pref,msg:+1-213-555-1234',
      'EMAIL;TYPE=internet:jqpublic@xyz.example.com',
      'EMAIL;TYPE=internet,pref:jane_doe@abc.example.com',
      'X-ANYTHING;X-ELSE=1:left out',
      'end:vcard',
    ].join('\n');
    expect(read(`${text}\n\n${text}`)[1]).toEqual({
      ...blank,
      name: 'Mr. John Q. Public, Esq.',
      address: '123 Main Street',
      city: 'Any Town',
      region: 'CA',
      postcode: '91921-1234',
      phone: '+1-213-555-1234',
      email: 'jane_doe@abc.example.com',
    });
  });

  it('says where a file breaks off or two cards run together', () => {
    for (const [text, message] of [
      ['BEGIN:VCARD\nFN:A', /line 1 has no end/],
      ['BEGIN:VCARD\nFN:A\nBEGIN:VCARD\nEND:VCARD', /line 1 does not end/],
      ['FN:A\nEND:VCARD', /Line 2 ends/],
    ] as const)
      expect(readCards(text)).toMatchObject({ ok: false, message: expect.stringMatching(message) as string });
  });
});

describe('a card that was written', () => {
  const text = fc.string({ unit: 'grapheme', maxLength: 120 }).map((raw) =>
    raw
      .replace(/[\r\u0085\u2028\u2029]/g, '')
      .replace(/^\uFEFF/, '')
      .trim(),
  );
  const line = text.map((raw) => raw.replace(/\s+/g, ' ').trim());

  it('comes back as it was, in lines of 75 octets at most that part no letter, in any script', () => {
    const cards = fc.record({
      name: line.filter((name) => name !== ''),
      email: line.map((raw) => raw.replace(/^mailto:/i, '')),
      phone: line.map((raw) => raw.replace(/^tel:/i, '').replaceAll(';', '')),
      address: text,
      city: line,
      region: line,
      postcode: line,
      country: line,
      language: fc.constantFrom('', 'en', 'de'),
      note: text,
    });
    fc.assert(
      fc.property(cards, (one) => {
        const written = cardText(one, { uid: 'b-1' });
        expect(read(written)).toEqual([one]);
        for (const raw of written.split('\r\n')) expect(Buffer.byteLength(raw)).toBeLessThanOrEqual(75);
        expect(Buffer.from(written).toString()).toBe(written);
      }),
      { numRuns: 60 },
    );
  });
});
