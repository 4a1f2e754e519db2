/** Renders a letter once, looks at the pages as they were laid out, and notes the calls that draw the same by hand. */
import { createRequire } from "node:module";
import type { Letter } from "../../src/letter/document.js";
import { renderPdf } from "../../src/page/pdf.js";
import type { EngineDocument } from "../../src/page/pdfmake/engine.js";
import { loadEngine } from "../../src/page/pdfmake/print.js";
import type { Content, LaidPage } from "../../src/page/set/content.js";
import { linkAround, type Tag } from "../../src/page/set/structure.js";
import { openFont, TYPEFACES } from "../../src/page/type/fonts.js";
import { bareDocument } from "./bare-document.js";
import type { BarePage, Trace } from "./calls.js";
import { Pen } from "./pen.js";
import { StructureNotes } from "./structure-notes.js";

const require = createRequire(import.meta.url);
const drawSvg = (require("pdfmake/js/3rd-party/svg-to-pdfkit.js") as { default: unknown }).default as (
  pen: Pen,
  svg: string,
  x: number,
  y: number,
  options: object,
) => void;
const TextDecorator = (require("pdfmake/js/TextDecorator.js") as { default: unknown }).default as new (
  pen: object,
) => { drawDecorations(line: LaidLine, x: number, y: number): void };

/** Laid-out words and lines, as far as they are drawn; typed here, so that the bench outlives changes of the engine's types. */
interface Run {
  readonly text: string;
  readonly x: number;
  readonly width: number;
  readonly font: { readonly name: string; readonly ascender: number };
  readonly fontSize: number;
  readonly color?: string;
  readonly link?: string;
  readonly decoration?: unknown;
  readonly inlineTag?: Tag;
}

interface LaidLine {
  readonly inlines: Run[];
  readonly x: number;
  readonly y: number;
  readonly content?: Content;
  getHeight(): number;
  getAscenderHeight(): number;
}

interface Rule {
  readonly type: string;
  readonly lineWidth?: number;
  readonly dash?: { readonly length: number; readonly space?: number };
  readonly color?: string;
  readonly lineColor?: string;
  readonly x1: number;
  readonly y1: number;
  readonly x2: number;
  readonly y2: number;
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

interface Picture {
  readonly svg: string;
  readonly image: string;
  readonly x: number;
  readonly y: number;
  readonly _width: number;
  readonly _height: number;
  readonly content?: Content;
}

interface Drawn {
  readonly pages: readonly LaidPage[];
  /** Photos by the names the engine gave them, as data addresses. */
  readonly images: Readonly<Record<string, string>>;
}

const laidOut = new WeakMap<EngineDocument, readonly LaidPage[]>();
let lastDrawn: Drawn | undefined;
let isWatching = false;

/** Keeps the pages that the engine is given to draw; of several settings of a letter only one is brought to its end. */
async function pagesOf(letter: Letter): Promise<Drawn> {
  const render = async () => {
    const { value, problems } = await renderPdf(letter);
    if (!value) throw new Error(`not rendered: ${problems.map((p) => p.id).join(", ")}`);
  };
  if (!isWatching) {
    // The engine has to be loaded, and amended, by the one who uses it.
    await render();
    isWatching = true;
    const { Renderer, PDFDocument } = await loadEngine();
    const { renderPages } = Renderer.prototype;
    Renderer.prototype.renderPages = function (pages) {
      laidOut.set(this.pdfDocument, pages);
      renderPages.call(this, pages);
    };
    const { end } = PDFDocument.prototype;
    PDFDocument.prototype.end = function () {
      const pages = laidOut.get(this);
      const { images } = this as unknown as Drawn;
      lastDrawn = pages && { pages, images };
      end.call(this);
    };
  }
  lastDrawn = undefined;
  await render();
  if (!lastDrawn) throw new Error("the engine drew no pages that could be traced");
  return lastDrawn;
}

let fontFiles: Map<string, string> | undefined;

function fontFile(name: string): string {
  fontFiles ??= new Map(
    Object.values(TYPEFACES).flatMap((cuts) =>
      Object.values(cuts).map((path) => [openFont(path).postscriptName, path]),
    ),
  );
  const path = fontFiles.get(name);
  if (!path) throw new Error(`no font file has the name ${name}`);
  return path;
}

/** As drawings ask for fonts: a family list, of which ours is the first that is known. */
function fontOfDrawing(families: string, isBold: boolean, isItalic: boolean): string {
  const names = families.split(",").map((name) => name.trim().replace(/['"]/g, "").toLowerCase());
  const known = names.map((name) => Object.keys(TYPEFACES).find((face) => face.toLowerCase() === name));
  const cuts = TYPEFACES[known.find((face) => face !== undefined) ?? "Noto Sans"];
  const cut = isBold && isItalic ? "bolditalics" : isBold ? "bold" : isItalic ? "italics" : "normal";
  return cuts?.[cut] ?? "";
}

/** The drawing with the size it is set at; its root tag may still have the size it was made for. */
function atSize(svg: string, width: number, height: number): string {
  const end = svg.indexOf(">");
  const root = svg
    .slice(0, end)
    .replace(/\swidth="[^"]*"/, ` width="${width}"`)
    .replace(/\sheight="[^"]*"/, ` height="${height}"`);
  return root + svg.slice(end);
}

class Tracer {
  readonly photos = new Map<string, Uint8Array>();
  readonly fonts = new Set<string>();
  readonly notes = new StructureNotes();

  constructor(private readonly images: Drawn["images"]) {}

  private readonly scrap = bareDocument({}, [...new Set(Object.values(TYPEFACES).flatMap(Object.values))]);

  page(laid: LaidPage): BarePage {
    const { width, height } = (laid as unknown as { pageSize: { width: number; height: number } }).pageSize;
    const pen = new Pen(width, height, (path) => this.scrap.font(path)._font);
    for (const { type, item } of laid.items) {
      const draw = () => this.draw(pen, laid, type, item);
      if (type === "line") this.line(pen, laid, item as unknown as LaidLine);
      else this.marked(pen, type === "vector" ? null : this.notes.tagToDraw(item.content, laid), draw);
    }
    for (const font of pen.fonts) this.fonts.add(font);
    return { width, height, calls: pen.calls };
  }

  private marked(pen: Pen, tag: Tag | null, draw: () => void): void {
    pen.calls.push(["begin", tag ? this.notes.mark(tag) : null]);
    const { length } = pen.calls;
    draw();
    if (pen.calls.length > length) pen.calls.push(["end"]);
    else if (!tag) pen.calls.pop();
    else pen.calls.push(["end"]);
  }

  private draw(pen: Pen, laid: LaidPage, type: string, item: object): void {
    pen.save();
    if (type === "vector") this.rule(pen, item as Rule);
    else if (type === "svg") this.drawing(pen, item as Picture);
    else if (type === "image") this.photo(pen, item as Picture);
    else throw new Error(`page ${laid.items.length} has an item the floor cannot draw: ${type}`);
    pen.restore();
  }

  /** In pieces as the product marks them: one for each inline element. */
  private line(pen: Pen, laid: LaidPage, line: LaidLine): void {
    const own = this.notes.tagToDraw(line.content, laid);
    const isLabel = line.inlines[0]?.inlineTag?.type === "Lbl";
    for (let from = 0; from < line.inlines.length; ) {
      const tag = line.inlines[from]?.inlineTag;
      const isWhole = !own && !isLabel;
      let to = from + 1;
      while (to < line.inlines.length && (isWhole || line.inlines[to]?.inlineTag === tag)) to += 1;
      const piece = line.inlines.slice(from, to);
      this.marked(pen, isWhole ? null : (tag ?? own), () => {
        this.words(pen, line, piece);
        const link = linkAround(tag);
        const address = piece[0]?.link;
        if (link && address) this.link(pen, line, piece, link, address);
      });
      from = to;
    }
  }

  private words(pen: Pen, line: LaidLine, piece: readonly Run[]): void {
    const baseline = line.y + line.getAscenderHeight();
    let at = 0;
    while (at < piece.length) {
      const first = piece[at] as Run;
      let text = first.text;
      let end = first.x + first.width;
      for (at += 1; at < piece.length; at += 1) {
        const next = piece[at] as Run;
        const goesOn =
          next.font === first.font &&
          next.fontSize === first.fontSize &&
          next.color === first.color &&
          Math.abs(next.x - end) < 0.01;
        if (!goesOn) break;
        text += next.text;
        end = next.x + next.width;
      }
      pen.save().fillColor(first.color ?? "black");
      const top = baseline - (first.font.ascender / 1000) * first.fontSize;
      pen.write(text, line.x + first.x, top, { font: fontFile(first.font.name), size: first.fontSize });
      pen.restore();
    }
    if (!piece.some((run) => run.decoration)) return;
    const shown = Object.assign(Object.create(line) as LaidLine, { inlines: [...piece] });
    new TextDecorator(pen).drawDecorations(shown, line.x, line.y);
  }

  private link(pen: Pen, line: LaidLine, piece: readonly Run[], link: Tag, address: string): void {
    const first = piece[0] as Run;
    const last = piece.at(-1) as Run;
    const place = [line.x + first.x, line.y, last.x + last.width - first.x, line.getHeight()];
    pen.calls.push(["link", ...place, address, this.notes.numberOf(link)]);
  }

  private rule(pen: Pen, rule: Rule): void {
    pen.lineWidth(rule.lineWidth || 1);
    if (rule.dash) pen.dash([rule.dash.length, rule.dash.space ?? rule.dash.length], { phase: 0 });
    if (rule.type === "line") pen.moveTo(rule.x1, rule.y1).lineTo(rule.x2, rule.y2);
    else if (rule.type === "rect") pen.rect(rule.x, rule.y, rule.w, rule.h);
    else throw new Error(`the floor cannot draw a ${rule.type}`);
    if (rule.color) pen.fillColor(rule.color);
    if (rule.lineColor || !rule.color) pen.strokeColor(rule.lineColor ?? "black");
    if (rule.color && rule.lineColor) pen.fillAndStroke();
    else if (rule.color) pen.fill();
    else pen.stroke();
  }

  private drawing(pen: Pen, { svg, x, y, _width, _height }: Picture): void {
    drawSvg(pen, atSize(svg, _width, _height), x, y, {
      width: _width,
      height: _height,
      assumePt: true,
      fontCallback: fontOfDrawing,
    });
  }

  private photo(pen: Pen, { image, x, y, _width, _height }: Picture): void {
    const encoded = /^data:image\/\w+;base64,(.*)$/s.exec(this.images[image] ?? image)?.[1];
    if (encoded === undefined) throw new Error("the floor knows photos only as data addresses");
    const bytes = Buffer.from(encoded, "base64");
    const known = [...this.photos].find(([, other]) => bytes.equals(other))?.[0];
    const name = known ?? `photo ${this.photos.size}`;
    this.photos.set(name, bytes);
    pen.calls.push(["image", name, x, y, { width: _width, height: _height }]);
  }
}

/** Throws when the letter cannot be rendered, or holds a drawing that the floor cannot draw. */
export async function traceLetter(letter: Letter): Promise<Trace> {
  const drawn = await pagesOf(letter);
  const tracer = new Tracer(drawn.images);
  const pages = drawn.pages.map((page) => tracer.page(page));
  const { title, language, date } = letter;
  return {
    title,
    language,
    date,
    pages,
    fonts: [...tracer.fonts],
    photos: tracer.photos,
    root: tracer.notes.root(),
  };
}
