/** Buyers of the invented workshop. Nobody here exists, nor do their towns, regions and codes. */
import type { Input } from '../../api/contract.ts';

export type Where = 'home' | 'away' | 'abroad';
export type Person = Omit<Input<'selling.saveBuyer'>, 'taxPlaceId'>;
interface DemoBuyer {
  readonly where: Where;
  readonly buyer: Person;
}

/** Street, town, region, code, country. */
type Place = readonly [string, string, string, string, string];

/** Someone with a place to write to. */
export const person = (
  name: string,
  [address, city, region, postcode, country]: Place,
  email: string,
  firstContactOn: string,
): Person => ({ name, address, city, region, postcode, country, email, firstContactOn });

/** Those who buy. */
export const buyers = {
  C01: {
    where: 'away',
    buyer: person(
      'Ottoline Fernshaw',
      ['12 Larder Street', 'Meresbank', 'NB', '00200', 'US'],
      'ottoline.fernshaw@meresbank.example',
      '2024-08-04',
    ),
  },
  C02: {
    where: 'away',
    buyer: person(
      'Dunstan Quillfeather',
      ['3 Cooper Yard', 'Nether Brill', 'QF', '00217', 'US'],
      'dunstan.quillfeather@nether-brill.example',
      '2024-07-31',
    ),
  },
  C03: {
    where: 'home',
    buyer: person(
      'Maribel Oxenmoor',
      ['27 Tannery Row', 'Upper Gosling', 'WL', '00412', 'US'],
      'maribel.oxenmoor@upper-gosling.example',
      '2024-08-09',
    ),
  },
  C04: {
    where: 'away',
    buyer: person(
      'Tavish Pennycask',
      ['88 Harbour Steps', 'Casklow', 'ER', '00251', 'US'],
      'tavish.pennycask@casklow.example',
      '2024-09-20',
    ),
  },
  C05: {
    where: 'away',
    buyer: person(
      'Lorna Underleaf',
      ['5 Orchard End', 'Pippinford', 'BV', '00268', 'US'],
      'lorna.underleaf@pippinford.example',
      '2024-09-21',
    ),
  },
  C06: {
    where: 'home',
    buyer: person(
      'Hesper Tallowby',
      ['41 Wick Street', 'Alderholt Ferry', 'WL', '00415', 'US'],
      'hesper.tallowby@alderholt-ferry.example',
      '2024-10-03',
    ),
  },
  C07: {
    where: 'away',
    buyer: person(
      'Corwin Mossbarrow',
      ['9 Fellside', 'Tarn Hollow', 'XN', '00302', 'US'],
      'corwin.mossbarrow@tarn-hollow.example',
      '2024-10-23',
    ),
  },
  C08: {
    where: 'away',
    buyer: person(
      'Isolde Wrenkettle',
      ['16 Copper Lane', 'Whistle Green', 'SB', '00319', 'US'],
      'isolde.wrenkettle@whistle-green.example',
      '2024-10-29',
    ),
  },
  C09: {
    where: 'away',
    buyer: person(
      'Bram Larkspindle',
      ['2 Mill Race', 'Spindle Weir', 'NB', '00336', 'US'],
      'bram.larkspindle@spindle-weir.example',
      '2024-08-10',
    ),
  },
  C10: {
    where: 'home',
    buyer: person(
      'Petra Gorsewick',
      ['70 Heath Road', 'Gorse End', 'WL', '00419', 'US'],
      'petra.gorsewick@gorse-end.example',
      '2024-09-04',
    ),
  },
  C11: {
    where: 'abroad',
    buyer: person(
      'Emeric Salthollow',
      ['114 Quay Road', 'Salthollow Bay', '', 'W0W 0W0', 'CA'],
      'emeric.salthollow@salthollow-bay.example',
      '2024-11-14',
    ),
  },
  C12: {
    where: 'away',
    buyer: person(
      'Nell Thistlecombe',
      ['33 Carder Lane', 'Thistle Mount', 'ER', '00387', 'US'],
      'nell.thistlecombe@thistle-mount.example',
      '2024-12-27',
    ),
  },
  C13: {
    where: 'away',
    buyer: person(
      'Rufus Candlemere',
      ['19 Wax Row', 'Candlemere', 'BV', '00404', 'US'],
      'rufus.candlemere@candlemere.example',
      '2024-12-28',
    ),
  },
  C14: {
    where: 'away',
    buyer: person(
      'Odile Barrowmint',
      ['6 Herb Walk', 'Mintlow', 'OX', '00421', 'US'],
      'odile.barrowmint@mintlow.example',
      '2025-01-02',
    ),
  },
  C15: {
    where: 'away',
    buyer: person(
      'Garrick Stonepipple',
      ['52 Pebble Street', 'Stonepipple', 'XN', '00438', 'US'],
      'garrick.stonepipple@stonepipple.example',
      '2025-01-18',
    ),
  },
  C16: {
    where: 'away',
    buyer: person(
      'Wynne Quincebury',
      ['4 Orchard Gate', 'Quincebury', 'SB', '00455', 'US'],
      'wynne.quincebury@quincebury.example',
      '2025-02-08',
    ),
  },
  C17: {
    where: 'home',
    buyer: person(
      'Fabian Duskwillow',
      ['81 Osier Bank', 'Duskwillow', 'WL', '00426', 'US'],
      'fabian.duskwillow@duskwillow.example',
      '2025-02-24',
    ),
  },
  C18: {
    where: 'away',
    buyer: person(
      'Greta Pottlesham',
      ['11 Kiln Close', 'Pottlesham', 'QF', '00489', 'US'],
      'greta.pottlesham@pottlesham.example',
      '2025-03-09',
    ),
  },
  C19: {
    where: 'away',
    buyer: person(
      'Lionel Brackenby',
      ['30 Fern Hill', 'Brackenby', 'HX', '00506', 'US'],
      'lionel.brackenby@brackenby.example',
      '2025-03-04',
    ),
  },
  C20: {
    where: 'away',
    buyer: person(
      'Sunniva Hazelgrip',
      ['7 Nut Lane', 'Hazelgrip', 'ER', '00523', 'US'],
      'sunniva.hazelgrip@hazelgrip.example',
      '2025-03-23',
    ),
  },
  C21: {
    where: 'away',
    buyer: person(
      'Ambrose Fiddlemarsh',
      ['63 Reed Street', 'Fiddlemarsh', 'BV', '00540', 'US'],
      'ambrose.fiddlemarsh@fiddlemarsh.example',
      '2025-01-25',
    ),
  },
  C22: {
    where: 'abroad',
    buyer: person(
      'Katya Ferrowind',
      ['9 Foundry Wharf', 'Ferrowind', '', 'QQ1 1QQ', 'GB'],
      'katya.ferrowind@ferrowind.example',
      '2025-05-12',
    ),
  },
  C23: {
    where: 'home',
    buyer: person(
      'Jonas Millwhistle',
      ['2 Race Row', 'Millwhistle', 'WL', '00432', 'US'],
      'jonas.millwhistle@millwhistle.example',
      '2025-06-05',
    ),
  },
  C24: {
    where: 'away',
    buyer: person(
      'Beatrix Coldspoon',
      ['45 Ladle Street', 'Coldspoon', 'SB', '00591', 'US'],
      'beatrix.coldspoon@coldspoon.example',
      '2025-02-09',
    ),
  },
  C25: {
    where: 'away',
    buyer: person(
      'Alaric Vanehollow',
      ['14 Weathercock Lane', 'Vanehollow', 'NB', '00608', 'US'],
      'alaric.vanehollow@vanehollow.example',
      '2025-03-04',
    ),
  },
  C26: {
    where: 'away',
    buyer: person(
      'Minna Copsewright',
      ['28 Coppice Road', 'Copsewright', 'QF', '00625', 'US'],
      'minna.copsewright@copsewright.example',
      '2025-05-18',
    ),
  },
  C27: {
    where: 'away',
    buyer: person(
      'Percival Rookbarrel',
      ['3 Stave Yard', 'Rookbarrel', 'HX', '00642', 'US'],
      'percival.rookbarrel@rookbarrel.example',
      '2025-08-07',
    ),
  },
  C28: {
    where: 'home',
    buyer: person(
      'Delphine Marrowstone',
      ['90 Quarry Foot', 'Marrowstone', 'WL', '00437', 'US'],
      'delphine.marrowstone@marrowstone.example',
      '2025-09-06',
    ),
  },
  C29: {
    where: 'away',
    buyer: person(
      'Eamon Tidelatch',
      ['17 Slipway', 'Tidelatch', 'BV', '00676', 'US'],
      'eamon.tidelatch@tidelatch.example',
      '2025-10-03',
    ),
  },
  C30: {
    where: 'away',
    buyer: person(
      'Verity Plumbwick',
      ['8 Line Street', 'Plumbwick', 'OX', '00693', 'US'],
      'verity.plumbwick@plumbwick.example',
      '2025-10-06',
    ),
  },
  C31: {
    where: 'away',
    buyer: person(
      'Silas Gannetford',
      ['55 Cliff Road', 'Gannetford', 'XN', '00710', 'US'],
      'silas.gannetford@gannetford.example',
      '2025-03-13',
    ),
  },
  C32: {
    where: 'away',
    buyer: person(
      'Honor Lindenquay',
      ['12 Lime Quay', 'Lindenquay', 'SB', '00727', 'US'],
      'honor.lindenquay@lindenquay.example',
      '2025-10-29',
    ),
  },
  C33: {
    where: 'away',
    buyer: person(
      'Casper Yarrowgate',
      ['21 Gate Row', 'Yarrowgate', 'NB', '00744', 'US'],
      'casper.yarrowgate@yarrowgate.example',
      '2025-11-19',
    ),
  },
} as const satisfies Readonly<Record<string, DemoBuyer>>;

export type BuyerKey = keyof typeof buyers;
