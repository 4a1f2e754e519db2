/** Loads the PDF engine when first needed, with its internals typed as far as we lean on them. Contract tests pin what is typed here. */
import { createRequire } from "node:module";
import type { Flow, LaidPage, Leaf, PdfNode } from "./page-content.js";
import type { Tag } from "./structure.js";

/** A measured word with the space after it. */
export interface Inline {
  text: string;
  font: EngineFont;
  fontSize: number;
  color: string;
  alignment: string;
  /** From the left edge of the line, in points. */
  readonly x: number;
  width: number;
  height: number;
  /** Spaces at the ends, which do not count at the ends of a line. */
  leadingCut: number;
  trailingCut: number;
  noWrap: boolean | undefined;
  /** Ours: kept on one line only where the column is wide enough. */
  isBound: boolean | undefined;
  /** Stays on the line of the next word. */
  noNewLine: boolean;
  lineEnd: boolean;
  decoration: string | undefined;
  link: string | undefined;
  inlineTag: Tag | undefined;
  /** Never set by us. */
  readonly background?: unknown;
  readonly characterSpacing?: number;
  readonly fontFeatures?: unknown;
}

export interface Line {
  inlines: Inline[];
  inlineWidths: number;
  leadingCut: number;
  newLineForced?: boolean;
  lastLineInParagraph?: boolean;
  addInline(inline: Inline): void;
  getAvailableWidth(): number;
  leaf?: Leaf;
  serial?: number;
  readonly maxWidth: number;
  getHeight(): number;
  getAscenderHeight(): number;
  getWidth(): number;
  clone(): Line;
}

export interface Ref {
  data: Record<string, unknown>;
  end(): void;
}

export interface NumberTree {
  add(key: number, value: unknown): void;
  get(key: number): unknown;
}

/** Where one glyph goes, in thousandths of the type size. */
export interface GlyphPosition {
  readonly xAdvance: number;
  /** As the font file says, without kerning. */
  readonly advanceWidth: number;
  readonly xOffset: number;
  readonly yOffset: number;
}

export interface EngineFont {
  readonly id: string;
  /** In thousandths of the type size. */
  readonly ascender: number;
  ref(): Ref;
  /** Numbers of the glyphs in the document's subset, as four hexadecimal digits each. */
  encode(text: string): [string[], GlyphPosition[]];
  widthOfString(text: string, size: number): number;
  lineHeight(size: number): number;
  layoutRun(text: string, features?: object): unknown;
  layoutCache: Record<string, unknown>;
}

/** An object of the file with a stream that may be packed. */
export interface EngineStream extends Ref {
  compress: boolean;
  buffer: Uint8Array[];
  finalize(): void;
}

export interface EnginePage {
  readonly content: EngineStream;
  readonly dictionary: Ref;
  readonly annotations: Ref[];
  readonly structParentTreeKey: number;
  readonly fonts: Record<string, Ref>;
  write(operators: string): void;
}

export interface EngineDocument {
  page: EnginePage;
  /** Pages not yet written. */
  readonly _pageBuffer: readonly EnginePage[];
  info: Record<string, unknown>;
  fonts: Record<string, Record<string, string>>;
  fontCache: Record<string, Record<string, EngineFont>>;
  _fontFamilies: Record<string, EngineFont>;
  _fontCount: number;
  _convertRect(x: number, y: number, w: number, h: number): number[];
  font(path: string): { _font: EngineFont };
  getFontType(bold: boolean, italics: boolean): string;
  getFontFile(family: string, bold: boolean, italics: boolean): string | null;
  provideFont(family: string, bold: boolean, italics: boolean): EngineFont;
  link(x: number, y: number, w: number, h: number, url: string): unknown;
  markContent(tag: string, options?: object): unknown;
  endMarkedContent(): unknown;
  addContent(operators: string): unknown;
  addPage(options: unknown): unknown;
  flushPages(): void;
  /** A part of the file; text is ended with a line feed. */
  _write(data: string | Uint8Array): void;
  _offset: number;
  ref(data: object): Ref;
  getStructTreeRoot(): Ref;
  getStructParentTree(): NumberTree;
  createStructParentTreeNextKey(): number;
  _addInfo(): void;
  on(event: "data" | "end" | "error", listener: (error?: Error) => void): unknown;
  end(): void;
}

/** A drawing at its place, in points from the top left of the page. */
export interface PlacedDrawing {
  readonly leaf?: Leaf;
  readonly svg: string;
  readonly x: number;
  readonly y: number;
  readonly _width: number;
  readonly _height: number;
}

export interface EngineRenderer {
  pdfDocument: EngineDocument;
  renderPages(pages: readonly LaidPage[]): void;
  renderLine(line: Line, x: number, y: number): void;
  renderSVG(svg: PlacedDrawing): void;
  renderImage(image: { leaf?: Leaf }): void;
  renderVector(vector: object): void;
}

export interface EngineContext {
  availableWidth: number;
  y: number;
  page: number;
  snapshots: unknown[];
  moveDown(distance: number): void;
}

export interface EngineLayout {
  writer: {
    context(): EngineContext;
    moveToNextPage(): void;
    transactionLevel: number;
  };
  linearNodeList: { resetXY(): void }[];
  layoutDocument(content: PdfNode & { flow?: Flow }, ...rest: unknown[]): LaidPage[];
  buildNextLine(node: PdfNode): Line | null;
  processNode(node: PdfNode, ...rest: unknown[]): void;
}

export interface EngineTable {
  tableNode: PdfNode;
  dontBreakRows: boolean;
  rowsWithoutPageBreak: number;
  beginRow(index: number, writer: EngineLayout["writer"]): void;
}

/** What a run of text takes from what it stands in. */
export interface EngineStyles {
  styleOverrides: (string | Record<string, unknown>)[];
  defaultStyle: Record<string, unknown>;
  auto(item: unknown, look: () => void): void;
  getProperty(name: string): unknown;
}

export type Inheriting = Pick<EngineStyles, "auto" | "getProperty">;

export interface EngineTextInlines {
  pdfDocument: EngineDocument;
  buildInlines(text: unknown, styles: Inheriting): { items: Inline[]; minWidth: number; maxWidth: number };
}

export interface Size {
  width: number;
  height: number;
}

export interface EngineDrawings {
  measureSVG(drawing: string): Size;
  writeDimensions(drawing: string, size: Size): string;
}

export interface EngineMeasure {
  textInlines: EngineTextInlines;
  measureNode(node: PdfNode): PdfNode;
  measureDocument(node: PdfNode): PdfNode;
  measureBlock(node: PdfNode): PdfNode;
  buildOrderedMarker(item: PdfNode, ...rest: unknown[]): { _inlines?: Inline[] };
  buildUnorderedMarker(
    item: PdfNode,
    styles: EngineStyles,
    gap: { width: number },
    ...rest: unknown[]
  ): object;
}

interface Printer {
  createPdfKitDocument(definition: object, options: object): Promise<EngineDocument>;
}

export interface Engine {
  readonly Printer: new (
    fonts: object,
    files: null,
    urls: object,
    policy: (path: string) => boolean,
  ) => Printer;
  readonly PDFDocument: { prototype: EngineDocument };
  readonly LayoutBuilder: { prototype: EngineLayout };
  readonly Renderer: { prototype: EngineRenderer };
  readonly TableProcessor: { prototype: EngineTable };
  readonly DocPreprocessor: {
    prototype: { preprocessDocument(node: PdfNode): PdfNode; preprocessBlock(node: PdfNode): PdfNode };
  };
  readonly DocMeasure: { prototype: EngineMeasure };
  readonly TextInlines: { prototype: EngineTextInlines };
  readonly StyleContextStack: { prototype: EngineStyles };
  readonly SVGMeasure: { prototype: EngineDrawings };
  readonly Line: { prototype: Line; new (maxWidth: number): Line };
  readonly TextBreaker: new () => {
    getBreaks(texts: string[], styles: Inheriting): { text: string; lineEnd?: boolean }[];
  };
}

const MODULES = [
  "Printer",
  "PDFDocument",
  "LayoutBuilder",
  "Renderer",
  "TableProcessor",
  "DocPreprocessor",
  "DocMeasure",
  "TextInlines",
  "StyleContextStack",
  "SVGMeasure",
  "Line",
  "TextBreaker",
] as const;

let loaded: Engine | undefined;

/** The engine, with `amend` applied to its classes the first time. Loading takes about 0.15 s, so text and HTML never do. */
export function loadEngine(amend: (engine: Engine) => void): Engine {
  if (!loaded) {
    const require = createRequire(import.meta.url);
    const parts = MODULES.map((name) => [
      name,
      (require(`pdfmake/js/${name}.js`) as { default: unknown }).default,
    ]);
    loaded = Object.fromEntries(parts) as Engine;
    amend(loaded);
  }
  return loaded;
}
