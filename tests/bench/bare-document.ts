/** Stock pdfkit documents whose fonts were parsed once and keep their shaped words. Nothing of the product's own engine is used. */
import { createRequire } from "node:module";
import type { Font } from "fontkit";

const require = createRequire(import.meta.url);

export interface BareFont {
  readonly id: string;
  readonly name: string;
  /** The characters of each glyph that was encoded. */
  readonly unicode: readonly (readonly number[])[];
  layoutCache: object;
  encode(text: string): [string[], object[]];
}

export interface BareElement {
  readonly dictionary: { readonly data: Record<string, unknown> };
  add(child: unknown): BareElement;
  end(): void;
}

/** The part of pdfkit's document that we use by name; drawing calls come from a list. */
export interface BareDocument {
  _font: BareFont;
  readonly _fontFamilies: Record<string, BareFont>;
  _fontCount: number;
  readonly _imageRegistry: Record<string, unknown>;
  addPage(options: object): BareDocument;
  font(path: string): BareDocument;
  openImage(bytes: Uint8Array): unknown;
  link(x: number, y: number, width: number, height: number, url: string, options: object): BareDocument;
  markContent(tag: string): BareDocument;
  markStructureContent(type: string): unknown;
  endMarkedContent(): BareDocument;
  struct(type: string, options: object): BareElement;
  addStructure(element: BareElement): BareDocument;
  on(event: "data" | "end" | "error", listener: (value: never) => void): BareDocument;
  end(): void;
}

type FontClass = new (document: BareDocument, font: Font, id: string) => BareFont;

const PDFDocument = require("pdfkit") as new (options: object) => BareDocument;

const parsed = new Map<string, Font>();
let Embedded: FontClass | undefined;

function parse(path: string): Font {
  const known = parsed.get(path);
  if (known) return known;
  const font = (require("fontkit") as typeof import("fontkit")).openSync(path) as Font;
  parsed.set(path, font);
  return font;
}

/** Shaped words by font file, kept from document to document. */
export type ShapedWords = Map<string, object>;

/** A document without pages that knows these font files. */
export function bareDocument(
  options: object,
  fonts: readonly string[],
  shaped: ShapedWords = new Map(),
): BareDocument {
  const document = new PDFDocument({ autoFirstPage: false, font: null, ...options });
  for (const path of fonts) {
    // pdfkit does not export the class of its fonts and takes no parsed ones.
    Embedded ??= new PDFDocument({}).font(path)._font.constructor as FontClass;
    document._fontCount += 1;
    const made = new Embedded(document, parse(path), `F${document._fontCount}`);
    made.layoutCache = shaped.get(path) ?? made.layoutCache;
    shaped.set(path, made.layoutCache);
    document._fontFamilies[path] = made;
  }
  return document;
}
