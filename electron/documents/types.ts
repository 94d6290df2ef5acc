/**
 * Plain data a paper is set from. Figures and dates arrive as finished text: what a number says is decided
 * in the domain, this layer only sets type.
 */

import type { ReportPaper } from './report-types.ts';

export type PaperSize = 'A4' | 'Letter';

export interface PaperFrame {
  readonly size: PaperSize;
  /** BCP 47 language tag of the paper, e.g. `en`. */
  readonly language: string;
  /** Instant written into the file's metadata, so that the same data gives the same bytes. */
  readonly madeAt: string;
  readonly workshopName: string;
  /** At the foot: `{page}` and `{pages}` are filled in. English unless given. */
  readonly folio?: string;
  readonly look?: PaperLook;
}

/** What makes papers the maker's own. */
export interface PaperLook {
  /** `#rrggbb`, dark enough for text on white; for a bar and the title alone. Null: the house's ink. */
  readonly accent: string | null;
  /** PNG or JPEG; stands in the place of the name where there is one. */
  readonly logo: Uint8Array | null;
}

export interface InvoicePaper extends PaperFrame {
  /** "Invoice" or "Credit note". */
  readonly title: string;
  readonly labels: {
    /** Said above the buyer. */
    readonly to: string;
    readonly what: string;
    readonly quantity: string;
    readonly each: string;
    readonly tax: string;
    readonly amount: string;
  };
  /** Set across a draft so that nobody takes it for the real paper. */
  readonly draftMark: string | null;
  readonly number: string;
  readonly seller: {
    readonly name: string;
    readonly lines: readonly string[];
    readonly contact: readonly string[];
  };
  readonly buyer: { readonly name: string; readonly lines: readonly string[] };
  /** Label and text: invoice date, supply date, due date, number credited, tax numbers … */
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly lines: readonly {
    readonly description: string;
    readonly detail: string;
    readonly qty: string;
    readonly unitPrice: string;
    readonly tax: string;
    readonly amount: string;
  }[];
  readonly totals: readonly { readonly label: string; readonly amount: string; readonly strong: boolean }[];
  /** Null where nothing is to be paid, or no account is known. */
  readonly payment: {
    readonly heading: string;
    readonly facts: readonly { readonly label: string; readonly text: string }[];
    /** What the square code says, with a line under it; null for none. */
    readonly code: { readonly text: string; readonly caption: string } | null;
  } | null;
  /** Paragraphs under the totals: terms, why no tax is charged. */
  readonly notes: readonly string[];
  /** What goes with the knife, each under a small heading: material, care, flaw, protected material. */
  readonly remarks: readonly { readonly heading: string; readonly text: string }[];
}

/** A letter with a table: a reminder, a statement of account, a list of what is owed. */
export interface LetterPaper extends PaperFrame {
  readonly title: string;
  /** Number or day in the title block; may be empty. */
  readonly mark: string;
  /** Said above the recipient. */
  readonly to: string;
  readonly sender: InvoicePaper['seller'];
  /** Null for a paper of the workshop's own. */
  readonly recipient: InvoicePaper['buyer'] | null;
  readonly facts: InvoicePaper['facts'];
  /** Paragraphs above and below the table. */
  readonly before: readonly string[];
  readonly heads: readonly string[];
  /** As many cells as heads; the detail stands under the first. */
  readonly rows: readonly { readonly cells: readonly string[]; readonly detail: string }[];
  readonly totals: InvoicePaper['totals'];
  readonly after: readonly string[];
  /** How to pay what it asks for, under everything else. */
  readonly payment?: InvoicePaper['payment'];
}

export interface CostSheetPaper extends PaperFrame {
  readonly title: string;
  readonly serial: string;
  readonly knife: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly sections: readonly {
    readonly heading: string;
    readonly rows: readonly {
      readonly label: string;
      readonly detail: string;
      readonly amount: string;
      readonly strong: boolean;
    }[];
  }[];
  readonly hours: {
    readonly heading: string;
    readonly rows: readonly {
      readonly label: string;
      readonly time: string;
      readonly amount: string;
      readonly strong: boolean;
    }[];
  };
  readonly views: readonly { readonly label: string; readonly meaning: string; readonly amount: string }[];
  readonly remarks: readonly string[];
  /** The working behind each figure, printed small after the sheet. */
  readonly working: readonly {
    readonly heading: string;
    readonly rows: readonly {
      readonly on: string;
      readonly label: string;
      readonly how: string;
      readonly exact: string;
    }[];
  }[];
}

/** The sheet of one making: its story in weights, what it cost, and what came out of it. */
export interface MakingPaper extends PaperFrame {
  readonly title: string;
  readonly tag: string;
  readonly name: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly steps: readonly {
    readonly on: string;
    readonly label: string;
    readonly detail: string;
    readonly weight: string;
    readonly loss: string;
    readonly layers: string;
    /** Weight as a part of the first weighing, 0 to 1; null where not weighed. */
    readonly part: number | null;
  }[];
  readonly sections: CostSheetPaper['sections'];
  readonly outputs: readonly {
    readonly lot: string;
    readonly name: string;
    readonly amount: string;
    readonly value: string;
    readonly time: string;
    /** What was taken of it. */
    readonly detail: string;
  }[];
  readonly remarks: readonly string[];
  readonly working: CostSheetPaper['working'];
}

/** Sheets of labels: a roll 62 mm wide cut every 29 mm, A4 with 24, Letter with 30. */
export type LabelSheetKey = 'roll62x29' | 'a4of24' | 'letterOf30';

/** Labels to stick on the rack. They have no frame and no foot. */
export interface LabelsPaper extends Omit<PaperFrame, 'size'> {
  readonly title: string;
  readonly sheet: LabelSheetKey;
  /** Places already used on the first page. */
  readonly skip: number;
  readonly labels: readonly {
    /** What the square code says. */
    readonly code: string;
    readonly tag: string;
    readonly name: string;
    readonly facts: readonly string[];
    readonly foot: string;
  }[];
}

/** The record of one heat treatment. */
export interface HeatPaper extends PaperFrame {
  readonly title: string;
  readonly tag: string;
  /** Recipe, batch or serials. */
  readonly name: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly steps: readonly {
    readonly label: string;
    readonly note: string;
    readonly celsius: string;
    readonly fahrenheit: string;
    readonly time: string;
  }[];
  readonly knives: readonly { readonly serial: string; readonly name: string }[];
  readonly checks: readonly {
    readonly knife: string;
    readonly on: string;
    readonly what: string;
    readonly found: string;
    readonly verdict: string;
  }[];
  readonly remarks: readonly string[];
  readonly cautions: readonly string[];
}

/** Which bars or sheets to cut, drawn to one scale. */
export interface CuttingPaper extends PaperFrame {
  readonly title: string;
  readonly item: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly sentence: string;
  readonly figures: readonly {
    readonly heading: string;
    readonly lengthMm: number;
    /** Null for a bar, whose width says nothing; it is drawn as a strip. */
    readonly widthMm: number | null;
    /** Millimetres from the near corner; `waste` is hatched, `kept` outlined. */
    readonly shapes: readonly {
      readonly kind: 'piece' | 'kept' | 'waste';
      readonly x: number;
      readonly y: number;
      readonly length: number;
      readonly width: number;
      readonly mark: string;
    }[];
    readonly rows: readonly {
      readonly mark: string;
      readonly label: string;
      readonly size: string;
      readonly worth: string;
    }[];
    /** The cuts in the order to make them. */
    readonly steps: readonly string[];
  }[];
  readonly unplaced: readonly string[];
  readonly caution: string;
}

/** What lies in a parcel, for the one who opens it. */
export interface PackingSlipPaper extends PaperFrame {
  readonly title: string;
  readonly mark: string;
  /** Who sends it, below the workshop's name. */
  readonly sender: readonly string[];
  readonly recipient: { readonly label: string; readonly lines: readonly string[] };
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  /** The last heading is empty where no values are shown. */
  readonly heads: { readonly what: string; readonly quantity: string; readonly value: string };
  readonly lines: readonly {
    readonly what: string;
    readonly detail: string;
    readonly quantity: string;
    readonly value: string;
  }[];
  readonly total: { readonly label: string; readonly value: string } | null;
  readonly notes: readonly { readonly heading: string; readonly text: string }[];
}

/** What a customs form is filled in from. */
export interface ContentListPaper extends PaperFrame {
  readonly title: string;
  readonly mark: string;
  readonly sender: { readonly label: string; readonly lines: readonly string[] };
  readonly recipient: { readonly label: string; readonly lines: readonly string[] };
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  /** Description, quantity, net weight, value, tariff number, origin. */
  readonly heads: readonly string[];
  readonly lines: readonly { readonly what: string; readonly cells: readonly string[] }[];
  /** Cells of the row that adds them up; its first is the label. */
  readonly total: readonly string[];
  readonly declared: { readonly label: string; readonly name: string; readonly signature: string };
  readonly caution: string;
}

/** The certificate of one knife. */
export interface CertificatePaper extends PaperFrame {
  readonly title: string;
  readonly serial: string;
  readonly name: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  /** PNG or JPEG. */
  readonly photo: { readonly bytes: Uint8Array; readonly alt: string } | null;
  readonly groups: readonly {
    readonly heading: string;
    readonly rows: readonly { readonly label: string; readonly text: string }[];
  }[];
  /** Papers of restricted material, with the caution last; empty without any. */
  readonly papers: { readonly heading: string; readonly lines: readonly string[] };
  readonly texts: readonly { readonly heading: string; readonly text: string }[];
  readonly signed: { readonly label: string; readonly name: string };
}

/** Finished knives shown before they are sold. */
export interface PreviewPaper extends PaperFrame {
  readonly title: string;
  readonly mark: string;
  readonly name: string;
  readonly intro: readonly string[];
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly knives: readonly {
    readonly serial: string;
    readonly title: string;
    /** Held, sold and the like; empty while it is free. */
    readonly state: string;
    readonly price: string;
    /** Price of sending, in words. */
    readonly shipping: string;
    readonly words: string;
    /** Each under a small heading: the flaw of a second, protected material. */
    readonly remarks: readonly { readonly heading: string; readonly text: string }[];
    readonly figures: readonly { readonly label: string; readonly text: string }[];
    /** PNG or JPEG. */
    readonly photo: Uint8Array | null;
    /** What is on the picture; where there is none, said in its place. */
    readonly photoWords: string;
  }[];
  readonly notes: readonly { readonly heading: string; readonly text: string }[];
}

/** A sheet to count on, or what a stocktake came to. */
export interface StocktakePaper extends PaperFrame {
  readonly title: string;
  readonly mark: string;
  readonly name: string;
  /** Under the name; may be empty. */
  readonly sentence: string;
  readonly facts: readonly { readonly label: string; readonly text: string }[];
  readonly sections: readonly {
    readonly heading: string;
    readonly heads: readonly string[];
    /** How many of the last columns are left empty to write in. */
    readonly blanks: number;
    /** As many cells as heads; the detail stands under the first. */
    readonly rows: readonly {
      readonly cells: readonly string[];
      readonly detail: string;
      readonly strong: boolean;
    }[];
  }[];
  readonly remarks: readonly string[];
  /** What stands under each line to sign on; none on a result. */
  readonly signed: readonly string[];
}

/** XML before it is written: attributes begin with `@_`, text beside them is `#text`. */
export interface XmlTree {
  readonly [name: string]: string | XmlTree | readonly XmlTree[];
}

/** An invoice with its data inside. */
export interface StructuredPaper {
  readonly invoice: InvoicePaper;
  readonly tree: XmlTree;
}

/** Every paper and the data it is set from. A new one is a line here, one in the worker and one in the port. */
export interface Papers {
  readonly invoice: InvoicePaper;
  readonly letter: LetterPaper;
  readonly structured: StructuredPaper;
  readonly costSheet: CostSheetPaper;
  readonly making: MakingPaper;
  readonly cutting: CuttingPaper;
  readonly labels: LabelsPaper;
  readonly heat: HeatPaper;
  readonly packingSlip: PackingSlipPaper;
  readonly contentList: ContentListPaper;
  readonly certificate: CertificatePaper;
  readonly preview: PreviewPaper;
  readonly stocktake: StocktakePaper;
  readonly report: ReportPaper;
}
export type PaperKind = keyof Papers;

/** Draws papers. */
export type Press = { readonly [K in PaperKind]: (data: Papers[K]) => Promise<Uint8Array> };
