/**
 * Plain data a paper is set from. Figures and dates arrive as finished text: what a number says is decided
 * in the domain, this layer only sets type.
 */

export type PaperSize = 'A4' | 'Letter';

export interface PaperFrame {
  readonly size: PaperSize;
  /** BCP 47 language tag of the paper, e.g. `en`. */
  readonly language: string;
  /** Instant written into the file's metadata, so that the same data gives the same bytes. */
  readonly madeAt: string;
  readonly workshopName: string;
}

export interface InvoicePaper extends PaperFrame {
  /** "Invoice" or "Credit note". */
  readonly title: string;
  /** Set across a draft so that nobody takes it for the real paper. */
  readonly draftMark: string | null;
  readonly number: string;
  readonly seller: {
    readonly name: string;
    readonly lines: readonly string[];
    readonly contact: readonly string[];
    readonly taxNumber: string;
  };
  readonly buyer: { readonly name: string; readonly lines: readonly string[] };
  /** Label and text: invoice date, supply date, due date, number credited … */
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
  /** Paragraphs under the totals: terms, how to pay, care, why no tax is charged. */
  readonly notes: readonly string[];
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
