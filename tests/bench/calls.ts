/** What it takes to draw a letter by hand: a flat list of calls of stock pdfkit for each page, its fonts, photos and structure. */
import type { TagAttributes } from "../../src/page/set/structure.js";

/**
 * A method of pdfkit's document and its arguments, or one of ours: `begin` with the number of a structure element (null for an
 * artifact) and `end` enclose a marked piece; `link` takes a place, an address and the number of its structure element.
 */
export type Call = readonly [method: string, ...args: unknown[]];

export interface BarePage {
  readonly width: number;
  readonly height: number;
  readonly calls: readonly Call[];
}

/** A structure element; a number stands for the marked piece of that number, counted from 0 through all pages. */
export interface StructureNode {
  readonly number: number;
  readonly type: string;
  readonly attributes: TagAttributes;
  readonly kids: readonly (StructureNode | number)[];
}

export interface Trace {
  readonly title: string;
  readonly language: string;
  readonly date: string;
  readonly pages: readonly BarePage[];
  /** Font files. */
  readonly fonts: readonly string[];
  /** Encoded photos, by the name that calls use. */
  readonly photos: ReadonlyMap<string, Uint8Array>;
  readonly root: StructureNode;
}
