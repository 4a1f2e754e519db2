/**
 * Marks what the engine draws: text, drawings and photos under their structure element, everything
 * else (rules, foot, draft mark, repeated table headers) as artifacts. The engine's own `tagged` switch only claims tags.
 */

import { escapeXml } from "../../base/text.js";
import type { Content } from "../set/content.js";
import { addMark, isWorthKeeping, linkAround, type Tag } from "../set/structure.js";
import { drawWords } from "./draw-runs.js";
import type { Engine, EngineDocument, Line, Outline, Placed, Ref } from "./engine.js";

/** Opens a marked piece of page under `tag`. */
function beginMark(pdf: EngineDocument, tag: Tag): void {
  const parents = pdf.getStructParentTree().get(pdf.page.structParentTreeKey) as unknown[];
  const mcid = parents.length;
  parents.push(null);
  addMark(tag, { kind: "mark", page: pdf.page.dictionary, mcid });
  pdf.addContent(`/${tag.type} <</MCID ${mcid}>> BDC`);
}

function asArtifact(pdf: EngineDocument, draw: () => unknown): void {
  pdf.addContent("/Artifact BMC");
  draw();
  pdf.addContent("EMC");
}

/** The pages on which header rows were drawn first; later drawings of the same row are artifacts. */
const firstDrawn = new WeakMap<object, unknown>();

function isInHeaderRow(content: Content): boolean {
  for (let block: Content["block"] | null = content.block; block; block = block.parent)
    if (block.repeats) return true;
  return false;
}

function tagToDraw(pdf: EngineDocument, content: Content | undefined): Tag | null {
  if (!content?.tag) return null;
  if (isInHeaderRow(content)) {
    const page = firstDrawn.get(content);
    if (page === undefined) firstDrawn.set(content, pdf.page.dictionary);
    else if (page !== pdf.page.dictionary) return null;
  }
  return content.tag;
}

function drawTagged(pdf: EngineDocument, tag: Tag | null, draw: () => unknown): void {
  if (!tag) {
    asArtifact(pdf, draw);
    return;
  }
  beginMark(pdf, tag);
  draw();
  pdf.addContent("EMC");
}

/** Bookmarks of a document: those that may take others below them, and the headings that have one. */
const bookmarks = new WeakMap<EngineDocument, { open: [number, Outline][]; had: Set<Tag> }>();

/** A bookmark for each heading, where its first line begins. */
function addBookmark(pdf: EngineDocument, tag: Tag, y: number): void {
  const level = Number(/^H(\d)$/.exec(tag.type)?.[1] ?? 0);
  const made = bookmarks.get(pdf) ?? { open: [[0, pdf.outline]], had: new Set() };
  bookmarks.set(pdf, made);
  if (level === 0 || made.had.has(tag) || !tag.attributes.title) return;
  made.had.add(tag);
  made.open = made.open.filter(([above]) => above < level);
  // The engine counts from the right edge; this is the left one.
  const [, , width = 0] = pdf.page.dictionary.data.MediaBox as number[];
  const item = made.open.at(-1)?.[1].addItem(tag.attributes.title, { top: y, left: width });
  if (item) made.open.push([level, item]);
  // The pane with the bookmarks is opened by who wants it.
  pdf._root.data.PageMode = "UseNone";
}

/** Notes where a figure is drawn. */
function placeFigure(pdf: EngineDocument, tag: Tag | null, { x, y, _width, _height }: Placed): void {
  if (tag) tag.bounds = pdf._convertRect(x, y, _width, _height);
}

/** Draws a line in pieces, one for each inline element, all on the line's own baseline. */
function drawLine(pdf: EngineDocument, line: Line, x: number, y: number, draw: (piece: Line) => void): void {
  const own = tagToDraw(pdf, line.content);
  if (own) addBookmark(pdf, own, y);
  const first = line.inlines[0];
  // A list label is a line of its own, without a content.
  if (!own && first?.inlineTag?.type !== "Lbl") {
    asArtifact(pdf, () => drawWords(pdf, line, line.inlines, x, y) || draw(line));
    return;
  }
  const height = line.getHeight();
  const ascender = line.getAscenderHeight();
  for (let from = 0; from < line.inlines.length; ) {
    const tag = line.inlines[from]?.inlineTag;
    let to = from + 1;
    while (to < line.inlines.length && line.inlines[to]?.inlineTag === tag) to += 1;
    const inlines = line.inlines.slice(from, to);
    drawTagged(pdf, tag ?? own, () => {
      if (drawWords(pdf, line, inlines, x, y)) return;
      const piece = line.clone();
      piece.inlines = inlines;
      piece.getHeight = () => height;
      piece.getAscenderHeight = () => ascender;
      const link = linkAround(tag);
      if (link) drawLink(pdf, link, piece, () => draw(piece));
      else draw(piece);
    });
    from = to;
  }
}

/** Replaces the engine's bare link annotation by one that says where it leads and stands under its Link element. */
function drawLink(pdf: EngineDocument, tag: Tag, piece: Line, draw: () => void): void {
  const words = piece.inlines
    .map((inline) => inline.text)
    .join("")
    .trim();
  pdf.link = (x, y, w, h, url) => {
    const action = pdf.ref({ S: "URI", URI: new String(url) });
    action.end();
    const parentKey = pdf.createStructParentTreeNextKey();
    const annotation = pdf.ref({
      Type: "Annot",
      Subtype: "Link",
      Rect: pdf._convertRect(x, y, w, h),
      Border: [0, 0, 0],
      F: 4,
      A: action,
      Contents: new String(words || url),
      StructParent: parentKey,
    });
    annotation.end();
    pdf.page.annotations.push(annotation);
    addMark(tag, {
      kind: "annotation",
      page: pdf.page.dictionary,
      annotation,
      parentKey,
    });
  };
  draw();
  Reflect.deleteProperty(pdf, "link");
}

function attributesOf(tag: Tag): Record<string, unknown> {
  const { alt, lang, actualText, scope, colSpan, numbering, title, id, headers } = tag.attributes;
  const data: Record<string, unknown> = {};
  if (alt !== undefined) data.Alt = new String(alt);
  if (lang !== undefined) data.Lang = new String(lang);
  if (actualText !== undefined) data.ActualText = new String(actualText);
  const table = {
    ...(scope ? { Scope: scope } : {}),
    ...(colSpan ? { ColSpan: colSpan } : {}),
    ...(headers ? { Headers: headers.map((each) => new String(each)) } : {}),
  };
  if (title !== undefined) data.T = new String(title);
  if (id !== undefined) data.ID = new String(id);
  if (tag.bounds) data.A = { O: "Layout", Placement: "Block", BBox: tag.bounds };
  if (numbering) data.A = { O: "List", ListNumbering: numbering };
  if (Object.keys(table).length > 0) data.A = { O: "Table", ...table };
  return data;
}

type Ids = Map<string, Ref>;

function writeTag(pdf: EngineDocument, tag: Tag, parent: Ref, ids: Ids): Ref {
  const data: Record<string, unknown> = {
    Type: "StructElem",
    S: tag.type,
    P: parent,
    ...attributesOf(tag),
  };
  const ref = pdf.ref(data);
  if (tag.attributes.id !== undefined) ids.set(tag.attributes.id, ref);
  const kids: unknown[] = [];
  for (const kid of tag.kids) {
    if (kid.kind === "tag") {
      if (isWorthKeeping(kid)) kids.push(writeTag(pdf, kid, ref, ids));
    } else if (kid.kind === "mark") {
      const page = kid.page as Ref;
      kids.push({ Type: "MCR", Pg: page, MCID: kid.mcid });
      const parents = pdf.getStructParentTree().get(page.data.StructParents as number) as unknown[];
      parents[kid.mcid] = ref;
    } else {
      kids.push({ Type: "OBJR", Pg: kid.page, Obj: kid.annotation });
      pdf.getStructParentTree().add(kid.parentKey, ref);
    }
  }
  data.K = kids;
  ref.end();
  return ref;
}

/** What `npm run conform` holds files against; the engine's own switch for it also writes a wrong list of glyphs. */
const CONFORMS = `
        <rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
            <pdfuaid:part>1</pdfuaid:part>
        </rdf:Description>
        `;

/** Writes the finished tree into the document; call after the last page is drawn and before the document ends. */
export function writeStructure(pdf: EngineDocument, root: Tag): void {
  const treeRoot = pdf.getStructTreeRoot();
  const ids: Ids = new Map();
  pdf.appendXML(CONFORMS);
  treeRoot.data.K = [writeTag(pdf, root, treeRoot, ids)];
  if (ids.size === 0) return;
  const names = [...ids].sort(([a], [b]) => (a < b ? -1 : 1)).flatMap(([id, ref]) => [new String(id), ref]);
  const tree = pdf.ref({ Names: names });
  tree.end();
  treeRoot.data.IDTree = tree;
}

/** The engine writes its metadata as XML unescaped. */
function escaped(value: unknown): unknown {
  return typeof value === "string" || value instanceof String ? escapeXml(String(value)) : value;
}

/** Makes the engine mark what it draws. */
export function patchTags({ Renderer, DocMeasure, PDFDocument }: Engine): void {
  const { renderLine, renderSVG, renderImage, renderVector } = Renderer.prototype;
  Renderer.prototype.renderLine = function (line, x, y) {
    drawLine(this.pdfDocument, line, x, y, (piece) => renderLine.call(this, piece, x, y));
  };
  Renderer.prototype.renderSVG = function (svg) {
    const tag = tagToDraw(this.pdfDocument, svg.content);
    placeFigure(this.pdfDocument, tag, svg);
    drawTagged(this.pdfDocument, tag, () => renderSVG.call(this, svg));
  };
  Renderer.prototype.renderImage = function (image) {
    const tag = tagToDraw(this.pdfDocument, image.content);
    placeFigure(this.pdfDocument, tag, image);
    drawTagged(this.pdfDocument, tag, () => renderImage.call(this, image));
  };
  Renderer.prototype.renderVector = function (vector) {
    asArtifact(this.pdfDocument, () => renderVector.call(this, vector));
  };

  const { buildOrderedMarker } = DocMeasure.prototype;
  DocMeasure.prototype.buildOrderedMarker = function (item, ...rest) {
    const marker = buildOrderedMarker.call(this, item, ...rest);
    for (const inline of marker._inlines ?? []) inline.inlineTag = item.labelTag;
    return marker;
  };
  // The engine draws bullets as circles, which no reader can speak; a bullet character can be a label.
  DocMeasure.prototype.buildUnorderedMarker = function (item, styles, gap) {
    const { items } = this.textInlines.buildInlines({ text: "\u2022" }, styles);
    for (const inline of items) inline.inlineTag = item.labelTag;
    return { _inlines: items, _minWidth: gap.width, _maxWidth: gap.width };
  };

  // The engine writes the title into XML metadata as it is.
  const { _addInfo } = PDFDocument.prototype;
  PDFDocument.prototype._addInfo = function () {
    const plain = this.info;
    this.info = Object.fromEntries(Object.entries(plain).map(([key, value]) => [key, escaped(value)]));
    _addInfo.call(this);
    this.info = plain;
  };
}
