/** The PDF engine with its internals typed as far as we lean on them. tests/page/pdfmake/contract.test.ts pins every member. */
import type { Content, Flow, LaidPage, PdfNode } from "../set/content.js";
import type { Tag } from "../set/structure.js";

/** A node of content with what the engine writes on it. */
export interface EngineNode extends PdfNode {
  _inlines?: Inline[];
  _margin?: EngineNode["margin"] | null;
  _minWidth?: number | undefined;
  _maxWidth?: number | undefined;
}

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
  content?: Content;
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

export interface EnginePage {
  readonly dictionary: Ref;
  readonly annotations: Ref[];
  readonly structParentTreeKey: number;
  readonly fonts: Record<string, Ref>;
}

export interface EngineDocument {
  page: EnginePage;
  readonly outline: Outline;
  readonly _root: Ref;
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
  ref(data: object): Ref;
  appendXML(xml: string): void;
  getStructTreeRoot(): Ref;
  getStructParentTree(): NumberTree;
  createStructParentTreeNextKey(): number;
  _addInfo(): void;
  on(event: "data" | "end" | "error", listener: (what?: unknown) => void): unknown;
  end(): void;
}

/** A drawing or photo at its place, in points from the top left of the page. */
export interface Placed {
  readonly content?: Content;
  readonly x: number;
  readonly y: number;
  readonly _width: number;
  readonly _height: number;
}

export interface PlacedDrawing extends Placed {
  readonly svg: string;
}

/** A bookmark, or all of them. */
export interface Outline {
  addItem(title: string, options: { top: number; left: number }): Outline;
}

export interface EngineRenderer {
  pdfDocument: EngineDocument;
  renderPages(pages: readonly LaidPage[]): void;
  renderLine(line: Line, x: number, y: number): void;
  renderSVG(svg: PlacedDrawing): void;
  renderImage(image: Placed): void;
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
  layoutDocument(content: PdfNode & { flow?: Flow }, ...rest: unknown[]): LaidPage[];
  buildNextLine(node: EngineNode): Line | null;
  processNode(node: EngineNode, ...rest: unknown[]): void;
  addHeadersAndFooters(header: unknown, footer: unknown): void;
}

export interface EngineTable {
  tableNode: PdfNode;
  dontBreakRows: boolean;
  rowsWithoutPageBreak: number;
  beginRow(index: number, writer: EngineLayout["writer"]): void;
}

/** What a run of text takes from what it stands in. */
export interface EngineStyles {
  auto(item: unknown, look: () => void): void;
  getProperty(name: string): unknown;
}

export interface EngineTextInlines {
  pdfDocument: EngineDocument;
  buildInlines(text: unknown, styles: EngineStyles): { items: Inline[]; minWidth: number; maxWidth: number };
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
  measureNode(node: EngineNode): EngineNode;
  buildOrderedMarker(item: PdfNode, ...rest: unknown[]): { _inlines?: Inline[] };
  buildUnorderedMarker(
    item: PdfNode,
    styles: EngineStyles,
    gap: { width: number },
    ...rest: unknown[]
  ): object;
}

export interface EnginePreprocessor {
  preprocessText(node: EngineNode): EngineNode;
}

export interface Printer {
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
  readonly DocMeasure: { prototype: EngineMeasure };
  readonly DocPreprocessor: { prototype: EnginePreprocessor };
  readonly TextInlines: { prototype: EngineTextInlines };
  readonly SVGMeasure: { prototype: EngineDrawings };
  readonly Line: { prototype: Line; new (maxWidth: number): Line };
  readonly TextBreaker: new () => {
    getBreaks(texts: string[], styles: EngineStyles): { text: string; lineEnd?: boolean }[];
  };
}
