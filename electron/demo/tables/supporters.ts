/** Supporters of the invented workshop, and where it does not ship. Nobody here exists, nor do their towns and codes. */
import type { Input } from '../../api/contract.ts';
import { type BuyerKey, type Person, person } from './people.ts';

/** The one level of the membership. */
export const supporterLevel = { name: 'Supporter', rank: 1, perMonth: '6.00' } as const;

/** The day each of those who buy began to support. */
export const buyersSupportFrom: Readonly<Partial<Record<BuyerKey, string>>> = {
  C01: '2024-08-12',
  C04: '2024-09-28',
  C08: '2024-11-15',
  C15: '2025-01-18',
  C16: '2025-02-08',
  C17: '2025-03-02',
  C25: '2025-04-12',
  C28: '2025-09-06',
  C29: '2025-10-03',
};

/** Those who support and have not bought yet. */
export const supporters: readonly { readonly from: string; readonly buyer: Person }[] = [
  {
    from: '2024-07-01',
    buyer: person(
      'Aldous Fennimarsh',
      ['6 Sluice End', 'Fennimarsh', 'NB', '00130', 'US'],
      'aldous.fennimarsh@fennimarsh.example',
      '2024-07-01',
    ),
  },
  {
    from: '2024-07-01',
    buyer: person(
      'Bettina Wickersby',
      ['18 Rush Lane', 'Wickersby', 'ER', '00151', 'US'],
      'bettina.wickersby@wickersby.example',
      '2024-07-01',
    ),
  },
  {
    from: '2024-07-02',
    buyer: person(
      'Cosmo Hartlebury',
      ['2 Antler Yard', 'Hartlebury Cross', 'XN', '00172', 'US'],
      'cosmo.hartlebury@hartlebury-cross.example',
      '2024-07-02',
    ),
  },
  {
    from: '2024-07-03',
    buyer: person(
      'Dorothea Pinchbeck-Rowe',
      ['40 Brass Street', 'Pinchrow', 'QF', '00193', 'US'],
      'dorothea.pinchbeck.rowe@pinchrow.example',
      '2024-07-03',
    ),
  },
  {
    from: '2024-07-05',
    buyer: person(
      'Ewan Gladewright',
      ['11 Clearing Road', 'Gladewright', '', 'QQ2 2QQ', 'GB'],
      'ewan.gladewright@gladewright.example',
      '2024-07-05',
    ),
  },
  {
    from: '2024-07-08',
    buyer: person(
      'Frieda Onionskin',
      ['7 Paper Mill', 'Vellum Bridge', 'SB', '00235', 'US'],
      'frieda.onionskin@vellum-bridge.example',
      '2024-07-08',
    ),
  },
  {
    from: '2024-07-11',
    buyer: person(
      'Gideon Sallowmere',
      ['23 Willow Bank', 'Sallowmere', 'HX', '00256', 'US'],
      'gideon.sallowmere@sallowmere.example',
      '2024-07-11',
    ),
  },
  {
    from: '2024-07-14',
    buyer: person(
      'Henrike Torffeld',
      ['Moorgasse 9', 'Torffeld', '', '00000', 'DE'],
      'henrike.torffeld@torffeld.example',
      '2024-07-14',
    ),
  },
  {
    from: '2024-07-18',
    buyer: person(
      'Ignatius Bellhanger',
      ['1 Tower Stair', 'Bellhanger', 'NB', '00298', 'US'],
      'ignatius.bellhanger@bellhanger.example',
      '2024-07-18',
    ),
  },
  {
    from: '2024-07-21',
    buyer: person(
      'Jessamy Cloverdike',
      ['55 Dyke Road', 'Cloverdike', 'ER', '00319', 'US'],
      'jessamy.cloverdike@cloverdike.example',
      '2024-07-21',
    ),
  },
  {
    from: '2024-07-24',
    buyer: person(
      'Kester Appleshade',
      ['13 Cider Court', 'Appleshade', 'XN', '00340', 'US'],
      'kester.appleshade@appleshade.example',
      '2024-07-24',
    ),
  },
  {
    from: '2024-07-27',
    buyer: person(
      'Leopoldine Grauwasser',
      ['Am Wehr 4', 'Grauwasser', '', '0000', 'AT'],
      'leopoldine.grauwasser@grauwasser.example',
      '2024-07-27',
    ),
  },
  {
    from: '2024-09-10',
    buyer: person(
      'Magnus Thornfettle',
      ['38 Smithy Hill', 'Thornfettle', 'BV', '00382', 'US'],
      'magnus.thornfettle@thornfettle.example',
      '2024-09-10',
    ),
  },
  {
    from: '2024-10-19',
    buyer: person(
      'Nesta Plumtrellis',
      ['21 Espalier Way', 'Plumtrellis', '', 'W0W 0W0', 'CA'],
      'nesta.plumtrellis@plumtrellis.example',
      '2024-10-19',
    ),
  },
  {
    from: '2024-11-06',
    buyer: person(
      'Osric Lanternby',
      ['4 Wick Lane', 'Lanternby', 'HX', '00424', 'US'],
      'osric.lanternby@lanternby.example',
      '2024-11-06',
    ),
  },
  {
    from: '2024-12-13',
    buyer: person(
      'Philippa Dovetarn',
      ['67 Cote Street', 'Dovetarn', '', 'QQ2 2QQ', 'GB'],
      'philippa.dovetarn@dovetarn.example',
      '2024-12-13',
    ),
  },
  {
    from: '2025-01-09',
    buyer: person(
      'Quillan Marbleford',
      ['15 Quarry Ford', 'Marbleford', 'NB', '00466', 'US'],
      'quillan.marbleford@marbleford.example',
      '2025-01-09',
    ),
  },
  {
    from: '2025-02-01',
    buyer: person(
      'Rosalind Hempstrand',
      ['29 Rope Walk', 'Hempstrand', 'ER', '00487', 'US'],
      'rosalind.hempstrand@hempstrand.example',
      '2025-02-01',
    ),
  },
  {
    from: '2025-02-22',
    buyer: person(
      'Sylvan Cutterby',
      ['8 Hull Street', 'Cutterby', 'XN', '00508', 'US'],
      'sylvan.cutterby@cutterby.example',
      '2025-02-22',
    ),
  },
  {
    from: '2025-03-01',
    buyer: person(
      'Tamsin Oakwhistle',
      ['32 Acorn Row', 'Oakwhistle', 'QF', '00529', 'US'],
      'tamsin.oakwhistle@oakwhistle.example',
      '2025-03-01',
    ),
  },
  {
    from: '2025-03-04',
    buyer: person(
      'Ulrich Nebelhorn',
      ['Kaiweg 12', 'Nebelhorn', '', '00000', 'DE'],
      'ulrich.nebelhorn@nebelhorn.example',
      '2025-03-04',
    ),
  },
  {
    from: '2025-03-07',
    buyer: person(
      'Violetta Saltspoon',
      ['3 Brine Court', 'Saltspoon', 'SB', '00571', 'US'],
      'violetta.saltspoon@saltspoon.example',
      '2025-03-07',
    ),
  },
  {
    from: '2025-03-09',
    buyer: person(
      'Warrick Beechhammer',
      ['46 Mallet Road', 'Beechhammer', 'HX', '00592', 'US'],
      'warrick.beechhammer@beechhammer.example',
      '2025-03-09',
    ),
  },
  {
    from: '2025-05-17',
    buyer: person(
      'Xanthe Ropeladder',
      ['10 Mast Lane', 'Ropeladder', 'OX', '00613', 'US'],
      'xanthe.ropeladder@ropeladder.example',
      '2025-05-17',
    ),
  },
  {
    from: '2025-06-07',
    buyer: person(
      'Yorick Candlebarrow',
      ['24 Tallow Street', 'Candlebarrow', 'NB', '00634', 'US'],
      'yorick.candlebarrow@candlebarrow.example',
      '2025-06-07',
    ),
  },
  {
    from: '2025-07-19',
    buyer: person(
      'Zelda Fernquarry',
      ['5 Bracken Pit', 'Fernquarry', 'ER', '00655', 'US'],
      'zelda.fernquarry@fernquarry.example',
      '2025-07-19',
    ),
  },
  {
    from: '2025-08-23',
    buyer: person(
      'Ágoston Kővirágházi',
      ['Kőris utca 3', 'Virágmalom', '', '0000', 'HU'],
      'agoston.koviraghazi@viragmalom.example',
      '2025-08-23',
    ),
  },
  {
    from: '2025-09-20',
    buyer: person(
      'Bożena Wierzbołąka',
      ['ul. Wierzbowa 14', 'Łąkowice Dolne', '', '00-000', 'PL'],
      'bozena.wierzbolaka@lakowice-dolne.example',
      '2025-09-20',
    ),
  },
  {
    from: '2025-10-02',
    buyer: person(
      'Crispin Wainfleece',
      ['31 Shearing Lane', 'Wainfleece', 'BV', '00718', 'US'],
      'crispin.wainfleece@wainfleece.example',
      '2025-10-02',
    ),
  },
  {
    from: '2025-10-07',
    buyer: person(
      'Daphne Inkerwell',
      ['9 Quill Street', 'Inkerwell', 'SB', '00739', 'US'],
      'daphne.inkerwell@inkerwell.example',
      '2025-10-07',
    ),
  },
  {
    from: '2025-10-11',
    buyer: person(
      '霧島 柚葉',
      ['霧坂 2-7', '霧島沢', '', '000-0000', 'JP'],
      'yuzuha@kirisawa.example',
      '2025-10-11',
    ),
  },
  {
    from: '2025-11-14',
    buyer: person(
      'Ephraim Tollbucket',
      ['62 Well Road', 'Tollbucket', 'OX', '00781', 'US'],
      'ephraim.tollbucket@tollbucket.example',
      '2025-11-14',
    ),
  },
  {
    from: '2025-12-05',
    buyer: person(
      'Florian Ganslwies',
      ['Ganswiese 1', 'Ganslwies', '', '0000', 'AT'],
      'florian.ganslwies@ganslwies.example',
      '2025-12-05',
    ),
  },
];

/** The one who left. */
export const left = { name: 'Cosmo Hartlebury', on: '2025-06-21' } as const;

/** Places the maker asks about first, or does not ship to. Notes to oneself, invented; nothing is said about any law. */
export const shipRules: readonly Omit<Input<'shipping.saveRule'>, 'id' | 'archived'>[] = [
  {
    country: 'CA',
    region: '',
    answer: 'ask',
    what: 'Ask the buyer whether customs there wants the blade length on the form.',
    checkedOn: '2024-11-20',
  },
  {
    country: 'GB',
    region: '',
    answer: 'ask',
    what: 'Ask the carrier which proof of age it takes before the label is bought.',
    checkedOn: '2025-05-20',
  },
  {
    country: 'AU',
    region: '',
    answer: 'no',
    what: 'A parcel came back after two months. Not again before the form is understood.',
    checkedOn: '2025-02-15',
  },
];
