/** The engine's input as we use it, with two records of our own on its nodes: which block and which structure element they belong to. */
import type { Tag } from "./structure.js";

/** How a block may meet a page end. */
export type FlowRule =
  /** Words: at least two lines on either side of a page end. */
  | "text"
  /** Stays with what follows. */
  | "heading"
  /** Not split while it fits on a page. */
  | "whole"
  /** Whole, and with some text before it on its page. */
  | "signature"
  /** Begins a page of its own. */
  | "sheet"
  /** May be split between its parts. */
  | "open"
  /** A table row. */
  | "row";

export interface Block {
  readonly rule: FlowRule;
  /** Where in the template, such as `<p.subject>`, for messages. */
  readonly where: string;
  readonly parent: Block | null;
  /** False inside table cells, columns and boxes, where no page break may be put. */
  readonly breakable: boolean;
  /** A header row, drawn again on each page. */
  readonly repeats?: boolean;
  /** Set apart from the flow, such as an address in its window. */
  readonly detached?: boolean;
  /** Where a page break before this block is asked for. */
  node?: PdfNode;
  /** For text: start a new page before this line, counted from 0. */
  breakAtLine?: number;
  /** For rows: start a new page before this row. */
  breakBefore?: boolean;
  /** Drawn with a frame, whose upper part stays behind when only the words go to the next page. */
  readonly framed?: boolean;
  /** For blocks kept whole: the share of a page above which they may be split after all. */
  readonly keptBelow?: number;
  /** For figures: the drawing, which may be set smaller to fit on a page. */
  drawing?: PdfNode;
  /** For photos: the node, likewise. */
  photo?: PdfNode;
  /** False for a block that is split rather than leave much of a page empty. */
  readonly mayOpenHole?: boolean;
  /** For lists: its last item does not begin a page alone. */
  readonly list?: boolean;
  /** For rows: taller than a page, so it has to be split. */
  mayBeSplit?: boolean;
}

/** What a content (text, drawing, photo) belongs to. A null tag makes it an artifact. */
export interface Content {
  readonly block: Block;
  readonly tag: Tag | null;
}

export interface PdfInline {
  text: string;
  font?: string;
  bold?: boolean;
  italics?: boolean;
  link?: string;
  color?: string;
  fontSize?: number;
  decoration?: string;
  noWrap?: boolean;
  /** Ours: kept on one line only where the column is wide enough. */
  isBound?: boolean;
  lineHeight?: number;
  inlineTag?: Tag;
}

export interface PdfNode {
  text?: string | PdfInline[];
  stack?: PdfNode[];
  columns?: PdfNode[];
  columnGap?: number;
  ul?: PdfNode[];
  ol?: PdfNode[];
  start?: number;
  table?: {
    body: PdfNode[][];
    widths: number[];
    headerRows?: number;
    keepWithHeaderRows?: number;
    dontBreakRows?: boolean;
    rowBlocks?: (Block | undefined)[];
  };
  layout?: object;
  svg?: string;
  image?: string;
  canvas?: object[];
  fit?: [number, number];
  width?: number | string;
  margin?: [number, number, number, number];
  absolutePosition?: { x: number; y: number };
  fontSize?: number;
  lineHeight?: number;
  bold?: boolean;
  color?: string;
  font?: string;
  alignment?: string;
  fillColor?: string;
  colSpan?: number;
  pageBreak?: string;
  /** Ours: the block and structure element it belongs to. */
  content?: Content;
  /** Ours: the tag of the list item's label. */
  labelTag?: Tag;
  /** Ours: go down to this distance from the top of the page, in points, unless already below it. */
  downTo?: number;
  /** Ours: on the root node, what to do with finished pages. */
  flow?: Flow;
}

/** Looks at laid-out pages; true asks for another pass with the changes it made. */
export interface Flow {
  anotherPass(pages: readonly LaidPage[], lost: readonly Content[]): boolean;
  /** All content of a document of so many pages: the text, and foot and backdrop of each page. */
  handed(pages: number): readonly PdfNode[];
}

export interface LaidItem {
  readonly type: string;
  readonly item: {
    readonly y: number;
    readonly content?: Content;
    /** Of a line: its words, its column and how much of it they take. */
    readonly inlines?: readonly { readonly text: string }[];
    readonly maxWidth?: number;
    getWidth?(): number;
    readonly _height?: number;
    getHeight?(): number;
  };
}

export interface LaidPage {
  readonly items: readonly LaidItem[];
}
