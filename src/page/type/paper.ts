/** Where things stand on the sheet: paper, margins, envelope windows and folds. Millimetres from the top left corner. */
import type { AddressWindow } from "../../letter/document.js";

export const POINTS_PER_MM = 72 / 25.4;

/** Millimetres as points. */
export function mm(length: number): number {
  return length * POINTS_PER_MM;
}

/** Side margins follow DIN 5008 (text from 25 mm, 20 mm free at the right) on every paper. */
export const MARGIN_MM = {
  left: 25,
  right: 20,
  top: 15,
  footGap: 3.5,
  bottom: 6,
} as const;

export interface WindowPlace {
  /** Left and top edge of the area in which the address always shows, and its size. */
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Where the text of the letter starts. */
  readonly bodyTopMm: number;
  readonly foldsMm: readonly number[];
}

/**
 * Window positions. DIN 5008 forms A and B: address zone 85 x 45 mm at 20 mm from the left, its lowest 27.3 mm for the recipient,
 * text 5 mm inside, folds 87/192 and 105/210 mm. US #9: zone at 17.5, 55.6 mm, 114.3 x 28.6 mm,
 * folds 95.3/187.3 mm, text in line with the letter's.
 * UK DL (window 35 x 90 mm, 20 mm from left, 18 mm from bottom; common practice) and US #10 (4.5 x 1.125 in; common practice):
 * the part that stays in view however the sheet slips in the envelope, calculated for thirds folds.
 */
export const WINDOWS: Readonly<Record<Exclude<AddressWindow, "none">, WindowPlace>> = {
  "uk-dl": {
    leftMm: 25,
    topMm: 57,
    widthMm: 75,
    heightMm: 24,
    bodyTopMm: 90,
    foldsMm: [99, 198],
  },
  "din-5008-a": {
    leftMm: 25,
    topMm: 44.7,
    widthMm: 80,
    heightMm: 27.3,
    bodyTopMm: 84,
    foldsMm: [87, 192],
  },
  "din-5008-b": {
    leftMm: 25,
    topMm: 62.7,
    widthMm: 80,
    heightMm: 27.3,
    bodyTopMm: 102,
    foldsMm: [105, 210],
  },
  "us-9": {
    leftMm: MARGIN_MM.left,
    topMm: 57,
    widthMm: 101,
    heightMm: 26,
    bodyTopMm: 92,
    foldsMm: [95.3, 187.3],
  },
  "us-10": {
    leftMm: 25,
    topMm: 64,
    widthMm: 84,
    heightMm: 16,
    bodyTopMm: 88,
    foldsMm: [93.1, 186.2],
  },
};
