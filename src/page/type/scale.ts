/** Type sizes and leading, in points, for each of the three settings of a letter. */
import type { TypeSize } from "../../letter/document.js";

export interface Style {
  readonly size: number;
  readonly leading: number;
  readonly bold?: boolean;
}

export interface Scale {
  readonly body: Style;
  readonly h1: Style;
  readonly h2: Style;
  readonly h3: Style;
  readonly subject: Style;
  readonly table: Style;
  readonly small: Style;
  readonly foot: Style;
  readonly address: Style;
  readonly clinic: Style;
  /** Contact lines of the letterhead, date and references. */
  readonly letterhead: Style;
  /** Space between paragraphs; other spaces are multiples of it. */
  readonly gap: number;
  /** Longest line of running text, in ems of the body size; about two characters an em. */
  readonly measureEms: number;
  /** Running text is set no smaller than this, nor a table than the second figure, however close a letter is set. */
  readonly smallest: readonly [text: number, table: number];
  /** How much drawings grow against the size they were drawn for. */
  readonly drawings: number;
  /** A drawing is set no smaller than this share of its size to fit on a page, so that its lettering stays readable. */
  readonly smallestDrawing: number;
  /** Tables are set as one block a row. */
  readonly stackTables: boolean;
}

export const SCALES: Readonly<Record<TypeSize, Scale>> = {
  compact: {
    body: { size: 9.8, leading: 13.2 },
    h1: { size: 15, leading: 20, bold: true },
    h2: { size: 11.5, leading: 15, bold: true },
    h3: { size: 9.8, leading: 13.2, bold: true },
    subject: { size: 10.5, leading: 14.5, bold: true },
    table: { size: 9, leading: 12 },
    small: { size: 8.5, leading: 11.5 },
    foot: { size: 8, leading: 10.5 },
    address: { size: 10, leading: 13 },
    clinic: { size: 13, leading: 17, bold: true },
    letterhead: { size: 8.5, leading: 11.5 },
    gap: 5,
    measureEms: 41,
    smallest: [9.5, 9],
    drawings: 1,
    smallestDrawing: 1,
    stackTables: false,
  },
  reading: {
    body: { size: 12.2, leading: 16.2 },
    h1: { size: 19, leading: 24, bold: true },
    h2: { size: 13.8, leading: 17, bold: true },
    h3: { size: 12.2, leading: 16.2, bold: true },
    subject: { size: 12.3, leading: 16.5, bold: true },
    table: { size: 12, leading: 15 },
    small: { size: 10.5, leading: 14.5 },
    foot: { size: 9, leading: 12 },
    address: { size: 11, leading: 14 },
    clinic: { size: 14, leading: 18, bold: true },
    letterhead: { size: 9.5, leading: 13 },
    gap: 5,
    measureEms: 40.5,
    smallest: [12, 12],
    drawings: 1.1,
    smallestDrawing: 0.75,
    stackTables: false,
  },
  large: {
    body: { size: 18, leading: 23.5 },
    h1: { size: 24, leading: 31, bold: true },
    h2: { size: 21, leading: 26, bold: true },
    h3: { size: 18, leading: 23.5, bold: true },
    subject: { size: 18, leading: 25, bold: true },
    table: { size: 18, leading: 23 },
    small: { size: 16, leading: 22 },
    foot: { size: 14, leading: 18 },
    address: { size: 11, leading: 14 },
    clinic: { size: 19, leading: 25, bold: true },
    letterhead: { size: 13, leading: 17 },
    gap: 8,
    measureEms: 36,
    smallest: [18, 18],
    drawings: 1.5,
    smallestDrawing: 0.8,
    stackTables: true,
  },
};

/** Lines closer than this share of their type run together to the eye. */
const LEAST_LEADING = 1.2;

/**
 * The same type set closer, for a letter whose last page would hold no more than a few lines. `degree` 1 takes 3.5 % from the
 * leading, 27 % from the spaces and 7 % from the drawings; 2 takes twice as much, and lets lines run on into the right margin
 * of running text. Beyond 1.7 the type is set a little smaller too, down to the smallest of the scale. Drawings stop giving
 * way where their lettering would be hard to read.
 */
export function tightened(scale: Scale, degree: number): Scale {
  const smaller = 0.03 * Math.max(0, degree - 1.7);
  const closer = (style: Style, least = 0): Style => {
    const size = Math.max(Math.min(least, style.size), style.size * (1 - smaller));
    return { ...style, size, leading: Math.max(size * LEAST_LEADING, style.leading * (1 - 0.035 * degree)) };
  };
  const [text, table] = scale.smallest;
  return {
    ...scale,
    body: closer(scale.body, text),
    h1: closer(scale.h1),
    h2: closer(scale.h2),
    h3: closer(scale.h3, text),
    table: closer(scale.table, table),
    gap: scale.gap * Math.max(0.2, 1 - 0.27 * degree),
    measureEms: scale.measureEms * (1 + 0.08 * Math.max(0, degree - 1)),
    drawings: scale.drawings * Math.max(0.89, 1 - 0.07 * degree),
  };
}

/** Degrees tried, from the least. */
export const TIGHTER: readonly number[] = [0.5, 1.1, 1.7, 2.4, 3.2, 3.8, 4.3];
