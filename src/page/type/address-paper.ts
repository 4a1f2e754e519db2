/**
 * Sheets of labels and envelopes that addresses are printed on, in millimetres. Label sheets are described by what can be measured
 * on them: how many there are, how large, and how far from the edge and from each other. Sizes of paper and envelopes: ISO 216,
 * ISO 269 (C5, DL) and US trade sizes; label sizes are common in the trade (common practice, no source). Print one on plain paper first.
 */
import { SHEETS } from "../../base/paper.js";

export interface LabelSheet {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly columns: number;
  readonly rows: number;
  readonly label: { readonly widthMm: number; readonly heightMm: number };
  /** From the left and top edge of the sheet to the first label. */
  readonly leftMm: number;
  readonly topMm: number;
  /** From label to label. */
  readonly betweenColumnsMm: number;
  readonly betweenRowsMm: number;
}

/** A sheet whose labels stand in the middle from left to right, and from top to bottom. */
function sheet(
  paper: keyof typeof SHEETS,
  [columns, rows]: readonly [number, number],
  [widthMm, heightMm]: readonly [number, number],
  betweenColumnsMm: number,
): LabelSheet {
  const page = SHEETS[paper];
  return {
    ...page,
    columns,
    rows,
    label: { widthMm, heightMm },
    leftMm: (page.widthMm - columns * widthMm - (columns - 1) * betweenColumnsMm) / 2,
    topMm: (page.heightMm - rows * heightMm) / 2,
    betweenColumnsMm,
    betweenRowsMm: 0,
  };
}

/** By paper, columns and rows. */
export const LABEL_SHEETS = {
  "a4-2x4": sheet("A4", [2, 4], [99.1, 67.7], 2.5),
  "a4-2x7": sheet("A4", [2, 7], [99.1, 38.1], 2.5),
  "a4-3x7": sheet("A4", [3, 7], [63.5, 38.1], 2.5),
  "a4-3x8": sheet("A4", [3, 8], [70, 37], 0),
  "letter-2x5": sheet("Letter", [2, 5], [101.6, 50.8], 4.8),
  "letter-2x7": sheet("Letter", [2, 7], [101.6, 33.9], 4.8),
  "letter-2x10": sheet("Letter", [2, 10], [101.6, 25.4], 4.8),
  "letter-3x10": sheet("Letter", [3, 10], [66.7, 25.4], 3.2),
} as const satisfies Record<string, LabelSheet>;

export type LabelSheetName = keyof typeof LABEL_SHEETS;

/** Where an address goes on an envelope: below and right of the middle, clear of stamp and postmark. Common practice. */
export interface Envelope {
  readonly widthMm: number;
  readonly heightMm: number;
}

export const ENVELOPES = {
  C5: { widthMm: 229, heightMm: 162 },
  DL: { widthMm: 220, heightMm: 110 },
  "#10": { widthMm: 241.3, heightMm: 104.8 },
} as const satisfies Record<string, Envelope>;

export type EnvelopeName = keyof typeof ENVELOPES;

/** An area that holds an address, from the left and top edge. */
export interface AddressArea {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Free space inside the edge of a label: sheets slip a little in a printer. Common practice. */
const EDGE_MM = { side: 4.5, end: 3 };

/** Area of the label at `place`, counted from 0 by rows. */
export function labelArea(of: LabelSheet, place: number): AddressArea {
  const column = place % of.columns;
  const row = Math.floor(place / of.columns);
  return {
    leftMm: of.leftMm + column * (of.label.widthMm + of.betweenColumnsMm) + EDGE_MM.side,
    topMm: of.topMm + row * (of.label.heightMm + of.betweenRowsMm) + EDGE_MM.end,
    widthMm: of.label.widthMm - 2 * EDGE_MM.side,
    heightMm: of.label.heightMm - 2 * EDGE_MM.end,
  };
}

/** Below and right of the middle, clear of the lower edge that sorting machines print on. Common practice. */
export function envelopeArea({ widthMm, heightMm }: Envelope): AddressArea {
  return {
    leftMm: widthMm * 0.44,
    topMm: heightMm * 0.44,
    widthMm: widthMm * 0.56 - 15,
    heightMm: heightMm * 0.56 - 18,
  };
}

/** Who sends it, small, in the upper left corner. */
export function senderArea({ widthMm, heightMm }: Envelope): AddressArea {
  return { leftMm: 10, topMm: 9, widthMm: widthMm * 0.5 - 10, heightMm: heightMm * 0.3 - 9 };
}
