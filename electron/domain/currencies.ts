/**
 * ISO 4217 active codes: number, decimals of the minor unit, symbol, name.
 * Source: ISO 4217 list one, published 2024-06-25. A dash means that the code has no minor unit (metals, fund units).
 * Symbols are common usage, not part of the standard; where two currencies share a sign, the longer form is used.
 */
const TABLE = `
AED 784 2 AED UAE Dirham
AFN 971 2 AFN Afghani
ALL 008 2 ALL Lek
AMD 051 2 ֏ Armenian Dram
ANG 532 2 ANG Netherlands Antillean Guilder
AOA 973 2 AOA Kwanza
ARS 032 2 ARS Argentine Peso
AUD 036 2 A$ Australian Dollar
AWG 533 2 AWG Aruban Florin
AZN 944 2 ₼ Azerbaijan Manat
BAM 977 2 BAM Convertible Mark
BBD 052 2 BBD Barbados Dollar
BDT 050 2 BDT Taka
BGN 975 2 лв Bulgarian Lev
BHD 048 3 BHD Bahraini Dinar
BIF 108 0 BIF Burundi Franc
BMD 060 2 BMD Bermudian Dollar
BND 096 2 BND Brunei Dollar
BOB 068 2 BOB Boliviano
BOV 984 2 BOV Mvdol
BRL 986 2 R$ Brazilian Real
BSD 044 2 BSD Bahamian Dollar
BTN 064 2 BTN Ngultrum
BWP 072 2 BWP Pula
BYN 933 2 BYN Belarusian Ruble
BZD 084 2 BZD Belize Dollar
CAD 124 2 CA$ Canadian Dollar
CDF 976 2 CDF Congolese Franc
CHE 947 2 CHE WIR Euro
CHF 756 2 CHF Swiss Franc
CHW 948 2 CHW WIR Franc
CLF 990 4 CLF Unidad de Fomento
CLP 152 0 CLP Chilean Peso
CNY 156 2 CN¥ Yuan Renminbi
COP 170 2 COP Colombian Peso
COU 970 2 COU Unidad de Valor Real
CRC 188 2 ₡ Costa Rican Colon
CUC 931 2 CUC Peso Convertible
CUP 192 2 CUP Cuban Peso
CVE 132 2 CVE Cabo Verde Escudo
CZK 203 2 Kč Czech Koruna
DJF 262 0 DJF Djibouti Franc
DKK 208 2 kr Danish Krone
DOP 214 2 DOP Dominican Peso
DZD 012 2 DZD Algerian Dinar
EGP 818 2 EGP Egyptian Pound
ERN 232 2 ERN Nakfa
ETB 230 2 ETB Ethiopian Birr
EUR 978 2 € Euro
FJD 242 2 FJD Fiji Dollar
FKP 238 2 FKP Falkland Islands Pound
GBP 826 2 £ Pound Sterling
GEL 981 2 ₾ Lari
GHS 936 2 ₵ Ghana Cedi
GIP 292 2 GIP Gibraltar Pound
GMD 270 2 GMD Dalasi
GNF 324 0 GNF Guinean Franc
GTQ 320 2 GTQ Quetzal
GYD 328 2 GYD Guyana Dollar
HKD 344 2 HK$ Hong Kong Dollar
HNL 340 2 HNL Lempira
HTG 332 2 HTG Gourde
HUF 348 2 Ft Forint
IDR 360 2 IDR Rupiah
ILS 376 2 ₪ New Israeli Sheqel
INR 356 2 ₹ Indian Rupee
IQD 368 3 IQD Iraqi Dinar
IRR 364 2 IRR Iranian Rial
ISK 352 0 kr Iceland Krona
JMD 388 2 JMD Jamaican Dollar
JOD 400 3 JOD Jordanian Dinar
JPY 392 0 ¥ Yen
KES 404 2 KES Kenyan Shilling
KGS 417 2 KGS Som
KHR 116 2 KHR Riel
KMF 174 0 KMF Comorian Franc
KPW 408 2 KPW North Korean Won
KRW 410 0 ₩ Won
KWD 414 3 KWD Kuwaiti Dinar
KYD 136 2 KYD Cayman Islands Dollar
KZT 398 2 ₸ Tenge
LAK 418 2 ₭ Lao Kip
LBP 422 2 LBP Lebanese Pound
LKR 144 2 LKR Sri Lanka Rupee
LRD 430 2 LRD Liberian Dollar
LSL 426 2 LSL Loti
LYD 434 3 LYD Libyan Dinar
MAD 504 2 MAD Moroccan Dirham
MDL 498 2 MDL Moldovan Leu
MGA 969 2 MGA Malagasy Ariary
MKD 807 2 MKD Denar
MMK 104 2 MMK Kyat
MNT 496 2 ₮ Tugrik
MOP 446 2 MOP Pataca
MRU 929 2 MRU Ouguiya
MUR 480 2 MUR Mauritius Rupee
MVR 462 2 MVR Rufiyaa
MWK 454 2 MWK Malawi Kwacha
MXN 484 2 MX$ Mexican Peso
MXV 979 2 MXV Mexican Unidad de Inversion (UDI)
MYR 458 2 MYR Malaysian Ringgit
MZN 943 2 MZN Mozambique Metical
NAD 516 2 NAD Namibia Dollar
NGN 566 2 ₦ Naira
NIO 558 2 NIO Cordoba Oro
NOK 578 2 kr Norwegian Krone
NPR 524 2 NPR Nepalese Rupee
NZD 554 2 NZ$ New Zealand Dollar
OMR 512 3 OMR Rial Omani
PAB 590 2 PAB Balboa
PEN 604 2 PEN Sol
PGK 598 2 PGK Kina
PHP 608 2 ₱ Philippine Peso
PKR 586 2 PKR Pakistan Rupee
PLN 985 2 zł Zloty
PYG 600 0 ₲ Guarani
QAR 634 2 QAR Qatari Rial
RON 946 2 lei Romanian Leu
RSD 941 2 RSD Serbian Dinar
RUB 643 2 RUB Russian Ruble
RWF 646 0 RWF Rwanda Franc
SAR 682 2 SAR Saudi Riyal
SBD 090 2 SBD Solomon Islands Dollar
SCR 690 2 SCR Seychelles Rupee
SDG 938 2 SDG Sudanese Pound
SEK 752 2 kr Swedish Krona
SGD 702 2 S$ Singapore Dollar
SHP 654 2 SHP Saint Helena Pound
SLE 925 2 SLE Leone
SOS 706 2 SOS Somali Shilling
SRD 968 2 SRD Surinam Dollar
SSP 728 2 SSP South Sudanese Pound
STN 930 2 STN Dobra
SVC 222 2 SVC El Salvador Colon
SYP 760 2 SYP Syrian Pound
SZL 748 2 SZL Lilangeni
THB 764 2 ฿ Baht
TJS 972 2 TJS Somoni
TMT 934 2 TMT Turkmenistan New Manat
TND 788 3 TND Tunisian Dinar
TOP 776 2 TOP Pa’anga
TRY 949 2 ₺ Turkish Lira
TTD 780 2 TTD Trinidad and Tobago Dollar
TWD 901 2 NT$ New Taiwan Dollar
TZS 834 2 TZS Tanzanian Shilling
UAH 980 2 ₴ Hryvnia
UGX 800 0 UGX Uganda Shilling
USD 840 2 $ US Dollar
USN 997 2 USN US Dollar (Next day)
UYI 940 0 UYI Uruguay Peso en Unidades Indexadas (UI)
UYU 858 2 UYU Peso Uruguayo
UYW 927 4 UYW Unidad Previsional
UZS 860 2 UZS Uzbekistan Sum
VED 926 2 VED Bolívar Soberano
VES 928 2 VES Bolívar Soberano
VND 704 0 ₫ Dong
VUV 548 0 VUV Vatu
WST 882 2 WST Tala
XAF 950 0 XAF CFA Franc BEAC
XAG 961 - XAG Silver
XAU 959 - XAU Gold
XBA 955 - XBA Bond Markets Unit European Composite Unit (EURCO)
XBB 956 - XBB Bond Markets Unit European Monetary Unit (E.M.U.-6)
XBC 957 - XBC Bond Markets Unit European Unit of Account 9 (E.U.A.-9)
XBD 958 - XBD Bond Markets Unit European Unit of Account 17 (E.U.A.-17)
XCD 951 2 XCD East Caribbean Dollar
XDR 960 - XDR SDR (Special Drawing Right)
XOF 952 0 XOF CFA Franc BCEAO
XPD 964 - XPD Palladium
XPF 953 0 XPF CFP Franc
XPT 962 - XPT Platinum
XSU 994 - XSU Sucre
XTS 963 - XTS Codes specifically reserved for testing purposes
XUA 965 - XUA ADB Unit of Account
XXX 999 - XXX The codes assigned for transactions where no currency is involved
YER 886 2 YER Yemeni Rial
ZAR 710 2 R Rand
ZMW 967 2 ZMW Zambian Kwacha
ZWG 924 2 ZWG Zimbabwe Gold
`;

/** One currency of ISO 4217. */
export interface Currency {
  readonly code: string;
  /** Three-digit number of the standard, e.g. `840`. */
  readonly number: string;
  /** Decimals of the minor unit; null where the standard gives none (gold, special drawing rights). */
  readonly decimals: number | null;
  /** Sign written beside an amount; the code itself where there is no usual sign. */
  readonly symbol: string;
  readonly name: string;
}

const parseRow = (row: string): Currency => {
  const [code = '', number = '', decimals = '', symbol = '', ...name] = row.split(' ');
  return { code, number, decimals: decimals === '-' ? null : Number(decimals), symbol, name: name.join(' ') };
};

/** All active codes in alphabetical order. */
export const currencies: readonly Currency[] = TABLE.trim().split('\n').map(parseRow);

const byCode = new Map(currencies.map((currency) => [currency.code, currency]));

/** Looks a currency up by its three-letter code. */
export const currencyOf = (code: string): Currency | undefined => byCode.get(code);

/**
 * Decimals of a currency's minor unit.
 * @throws RangeError for a code that is not in the table or has no minor unit: settings must not let one in.
 */
export const decimalsOf = (code: string): number => {
  const decimals = byCode.get(code)?.decimals;
  if (decimals === undefined || decimals === null)
    throw new RangeError(`No minor unit known for currency ${code}`);
  return decimals;
};

/** Units of account of banks and funds: in the standard, but nobody pays for a knife in them. */
const fundCodes: readonly string[] = ['BOV', 'CHE', 'CHW', 'CLF', 'COU', 'MXV', 'USN', 'UYI', 'UYW'];

/** Currencies a workshop can keep its books in: those that have a minor unit and circulate as money. */
export const bookCurrencies: readonly Currency[] = currencies.filter(
  (currency) => currency.decimals !== null && !fundCodes.includes(currency.code),
);
