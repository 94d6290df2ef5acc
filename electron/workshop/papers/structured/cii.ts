/**
 * The tree of a Cross Industry Invoice (UN/CEFACT D16B, D22B subset) in the EN 16931 profile of Factur-X 1.0.
 * The order of the keys is the order the schema asks for. `@_` marks an attribute, `#text` the text beside it.
 */
import type { XmlTree } from '../../../documents/types.ts';
import { isVatNumber } from './missing.ts';
import type { StatedGroup, StatedLine, Statement } from './statement.ts';

type Branch = XmlTree;
type Party = Statement['seller'];

const rate = (of: Pick<StatedGroup, 'rate'>): Branch =>
  of.rate === null ? {} : { 'ram:RateApplicablePercent': of.rate };

/** Leaves out a branch whose text is empty. */
const some = (key: string, text: string): Branch => (text === '' ? {} : { [key]: text });

const dayOf = (iso: string): string => iso.replaceAll('-', '');

const dateTime = (iso: string): Branch => ({
  'udt:DateTimeString': { '@_format': '102', '#text': dayOf(iso) },
});

/** Up to three street lines; more are joined to the last. */
function addressOf({ street, city, region, postcode, country }: Party): Branch {
  const [one = '', two = '', ...rest] = street.split('\n').map((line) => line.trim());
  return {
    ...some('ram:PostcodeCode', postcode),
    ...some('ram:LineOne', one),
    ...some('ram:LineTwo', two),
    ...some('ram:LineThree', rest.join(', ')),
    ...some('ram:CityName', city),
    'ram:CountryID': country,
    ...some('ram:CountrySubDivisionName', region),
  };
}

/** A number for value added tax is `VA`, any other tax number of the seller's place `FC`. */
function registrations(party: Party, seller: boolean): Branch {
  const plain = party.taxNumber.replaceAll(/\s/g, '');
  if (plain === '') return {};
  const vat = isVatNumber(plain, party.country);
  if (!vat && !seller) return {};
  const number = vat ? plain.replaceAll(/[.-]/g, '').toUpperCase() : plain;
  return {
    'ram:SpecifiedTaxRegistration': { 'ram:ID': { '@_schemeID': vat ? 'VA' : 'FC', '#text': number } },
  };
}

function sellerOf({ seller, groups }: Statement): Branch {
  // Outside the scope of tax the rules forbid a tax registration (BR-O-02); an identifier stands in its place.
  const outside = groups.some(({ category }) => category === 'O');
  const vat = isVatNumber(seller.taxNumber, seller.country);
  const identified = seller.registerNumber !== '' || (vat && !outside);
  return {
    ...(identified ? {} : some('ram:ID', seller.taxNumber)),
    'ram:Name': seller.name,
    ...(seller.registerNumber === ''
      ? {}
      : { 'ram:SpecifiedLegalOrganization': { 'ram:ID': seller.registerNumber } }),
    ...contactOf(seller),
    'ram:PostalTradeAddress': addressOf(seller),
    ...electronicOf(seller),
    ...(outside ? {} : registrations(seller, true)),
  };
}

function contactOf({ name, phone, email }: Party): Branch {
  if (phone === '' && email === '') return {};
  return {
    'ram:DefinedTradeContact': {
      'ram:PersonName': name,
      ...(phone === '' ? {} : { 'ram:TelephoneUniversalCommunication': { 'ram:CompleteNumber': phone } }),
      ...(email === '' ? {} : { 'ram:EmailURIUniversalCommunication': { 'ram:URIID': email } }),
    },
  };
}

const electronicOf = ({ email }: Party): Branch =>
  email === ''
    ? {}
    : { 'ram:URIUniversalCommunication': { 'ram:URIID': { '@_schemeID': 'EM', '#text': email } } };

const buyerOf = ({ buyer, groups }: Statement): Branch => ({
  'ram:Name': buyer.name,
  'ram:PostalTradeAddress': addressOf(buyer),
  ...electronicOf(buyer),
  ...(groups.some(({ category }) => category === 'O') ? {} : registrations(buyer, false)),
});

const lineOf = (line: StatedLine, at: number): Branch => ({
  'ram:AssociatedDocumentLineDocument': { 'ram:LineID': String(at + 1) },
  'ram:SpecifiedTradeProduct': { 'ram:Name': line.name, ...some('ram:Description', line.detail) },
  'ram:SpecifiedLineTradeAgreement': { 'ram:NetPriceProductTradePrice': { 'ram:ChargeAmount': line.price } },
  'ram:SpecifiedLineTradeDelivery': {
    'ram:BilledQuantity': { '@_unitCode': line.unitCode, '#text': line.qty },
  },
  'ram:SpecifiedLineTradeSettlement': {
    'ram:ApplicableTradeTax': { 'ram:TypeCode': 'VAT', 'ram:CategoryCode': line.category, ...rate(line) },
    'ram:SpecifiedTradeSettlementLineMonetarySummation': { 'ram:LineTotalAmount': line.net },
  },
});

const groupOf = (group: StatedGroup): Branch => ({
  'ram:CalculatedAmount': group.tax,
  'ram:TypeCode': 'VAT',
  ...some('ram:ExemptionReason', group.reason),
  'ram:BasisAmount': group.base,
  'ram:CategoryCode': group.category,
  ...some('ram:ExemptionReasonCode', group.reasonCode),
  ...rate(group),
});

/** UNTDID 4461: 58 is a SEPA credit transfer, 30 a credit transfer. */
function meansOf({ account, currency }: Statement): Branch {
  if (account.iban === '') return {};
  return {
    'ram:SpecifiedTradeSettlementPaymentMeans': {
      'ram:TypeCode': currency === 'EUR' ? '58' : '30',
      'ram:PayeePartyCreditorFinancialAccount': { 'ram:IBANID': account.iban },
      ...(account.bic === ''
        ? {}
        : { 'ram:PayeeSpecifiedCreditorFinancialInstitution': { 'ram:BICID': account.bic } }),
    },
  };
}

/** Goods untaxed to another country of the Union must say where they went (BR-IC-12). */
const deliveryOf = (of: Statement): Branch => ({
  ...(of.groups.some(({ category }) => category === 'K')
    ? { 'ram:ShipToTradeParty': { 'ram:PostalTradeAddress': addressOf(of.buyer) } }
    : {}),
  ...(of.suppliedOn === null
    ? {}
    : {
        'ram:ActualDeliverySupplyChainEvent': { 'ram:OccurrenceDateTime': dateTime(of.suppliedOn) },
      }),
});

const settlementOf = (of: Statement): Branch => ({
  'ram:PaymentReference': of.reference,
  'ram:InvoiceCurrencyCode': of.currency,
  ...meansOf(of),
  'ram:ApplicableTradeTax': of.groups.map(groupOf),
  'ram:SpecifiedTradePaymentTerms': { 'ram:DueDateDateTime': dateTime(of.dueOn) },
  'ram:SpecifiedTradeSettlementHeaderMonetarySummation': {
    'ram:LineTotalAmount': of.net,
    'ram:TaxBasisTotalAmount': of.net,
    'ram:TaxTotalAmount': { '@_currencyID': of.currency, '#text': of.tax },
    'ram:GrandTotalAmount': of.total,
    ...(Number(of.prepaid) === 0 ? {} : { 'ram:TotalPrepaidAmount': of.prepaid }),
    'ram:DuePayableAmount': of.due,
  },
  ...(of.named.length === 0
    ? {}
    : {
        'ram:InvoiceReferencedDocument': of.named.map((named) => ({
          'ram:IssuerAssignedID': named.number,
          'ram:FormattedIssueDateTime': {
            'qdt:DateTimeString': { '@_format': '102', '#text': dayOf(named.issuedOn) },
          },
        })),
      }),
});

/** The whole invoice as a tree. */
export const ciiTree = (of: Statement): XmlTree => ({
  'rsm:CrossIndustryInvoice': {
    '@_xmlns:rsm': 'urn:un:unece:uncefact:data:standard:CrossIndustryInvoice:100',
    '@_xmlns:qdt': 'urn:un:unece:uncefact:data:standard:QualifiedDataType:100',
    '@_xmlns:ram': 'urn:un:unece:uncefact:data:standard:ReusableAggregateBusinessInformationEntity:100',
    '@_xmlns:udt': 'urn:un:unece:uncefact:data:standard:UnqualifiedDataType:100',
    'rsm:ExchangedDocumentContext': {
      'ram:GuidelineSpecifiedDocumentContextParameter': { 'ram:ID': 'urn:cen.eu:en16931:2017' },
    },
    'rsm:ExchangedDocument': {
      'ram:ID': of.number,
      'ram:TypeCode': of.typeCode,
      'ram:IssueDateTime': dateTime(of.issuedOn),
      ...(of.notes.length === 0
        ? {}
        : { 'ram:IncludedNote': of.notes.map((note) => ({ 'ram:Content': note })) }),
    },
    'rsm:SupplyChainTradeTransaction': {
      'ram:IncludedSupplyChainTradeLineItem': of.lines.map(lineOf),
      'ram:ApplicableHeaderTradeAgreement': {
        'ram:SellerTradeParty': sellerOf(of),
        'ram:BuyerTradeParty': buyerOf(of),
      },
      'ram:ApplicableHeaderTradeDelivery': deliveryOf(of),
      'ram:ApplicableHeaderTradeSettlement': settlementOf(of),
    },
  },
});
