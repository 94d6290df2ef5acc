/** Words of the certificate of a knife. */
export const certificate = {
  title: 'Certificate',
  facts: { finished: 'Finished', serial: 'Serial', maker: 'Made by', model: 'Model' },
  photo: (name: string, serial: string): string => `Photograph of ${name}, serial ${serial}`,
  blade: {
    heading: 'Blade',
    steel: 'Steel',
    heatNumber: (number: string): string => `heat number ${number}`,
    hardened: 'Hardened',
    quenchedIn: (bath: string): string => `quenched in ${bath}`,
    cold: 'Deep cooled',
    tempered: 'Tempered',
    at: (time: string, temperature: string): string =>
      [time, temperature].filter((part) => part !== '').join(' at '),
    hardness: 'Hardness',
    meanOf: (words: string, readings: number): string => `${words}, mean of ${readings} readings`,
  },
  measured: {
    heading: 'Measured',
    weight: 'Weight',
    behindEdge: 'Behind the edge',
    places: { heel: 'heel', middle: 'middle', tip: 'tip' } as Readonly<Record<string, string>>,
    straight: 'Straight within',
    tested: 'Tested',
    tests: { edgeFlex: 'edge over the rod', cut: 'working cut', chop: 'chop', skate: 'file' } as Readonly<
      Record<string, string>
    >,
  },
  handle: { heading: 'Handle and fittings', handle: 'Handle', fitting: 'Fittings', sheath: 'Sheath' },
  flaw: 'Sold as a second',
  papers: {
    heading: 'Papers that go with this knife',
    line: (name: string, details: string): string => (details === '' ? name : `${name}: ${details}`),
    listing: (listing: string): string => `listed ${listing}`,
    origin: (origin: string): string => `from ${origin}`,
    number: (number: string): string => `document ${number}`,
    caution: 'Keep them with the knife, and check the rule in force before it is sold or crosses a border.',
  },
  care: 'Care',
  warranty: 'Warranty',
  signed: 'Signed',
};
