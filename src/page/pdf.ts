/** A finished letter -> PDF bytes: tagged, the same for the same letter, and never with anything left out. */
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import type { Letter } from "../letter/document.js";
import { cleanText } from "./characters.js";
import { type EngineDocument, loadEngine } from "./engine.js";
import { amendForFonts } from "./font-cache.js";
import { BODY_FACE, TYPEFACES } from "./fonts.js";
import { setBackdrop, setFoot } from "./foot.js";
import { amendForFlow, ContentLost } from "./layout-hooks.js";
import { setHead, splitHead } from "./letter-head.js";
import { type Element, headingLevels, readMarkup } from "./markup.js";
import { PageBreaks } from "./page-breaks.js";
import type { Block, PdfNode } from "./page-content.js";
import { MARGIN_MM, mm, SHEETS } from "./paper.js";
import { pageError } from "./problems.js";
import { amendForFiles, bytesOf } from "./quick-file.js";
import { amendForSpeed, drawPages } from "./quick-layout.js";
import { SCALES, type Scale, TIGHTER, tightened } from "./scale.js";
import { setBlocks } from "./set-blocks.js";
import { type Setting, typeOf, withSpaceAbove } from "./setting.js";
import { addTag, type Tag } from "./structure.js";
import { amendForTags, writeStructure } from "./tagging.js";

export interface RenderedPdf {
  readonly bytes: Uint8Array;
  readonly pages: number;
}

interface Composed {
  readonly definition: object;
  readonly root: Tag;
  readonly flow: PageBreaks;
  readonly count: { pages: number };
}

function compose(letter: Letter, markup: Element, scale: Scale, problems: Problem[]): Composed {
  const sheet = SHEETS[letter.paper];
  const foot = setFoot(letter, scale, problems);
  const top = mm(MARGIN_MM.top);
  const pageHeight = mm(sheet.heightMm) - top - foot.height;
  const root = addTag(null, "Document");
  const blocks: Block[] = [];
  const setting: Setting = {
    letter,
    scale,
    problems,
    blocks,
    width: mm(sheet.widthMm - MARGIN_MM.left - MARGIN_MM.right),
    pageHeight,
    tag: root,
    headingLevels: headingLevels(markup),
    block: null,
    free: true,
    style: scale.body,
    measureEms: scale.measureEms,
  };
  const { head, body } = splitHead(markup);
  const headNodes = setHead(setting, head);
  const bodyNodes = setBlocks(setting, body);
  const first = bodyNodes[0];
  if (first && headNodes.length > 0) withSpaceAbove(first, scale.gap * 2);
  const flow = new PageBreaks(blocks, top, pageHeight, scale.smallestDrawing);
  const content: PdfNode = { stack: [...headNodes, ...bodyNodes], flow };
  const count = { pages: 0 };
  // Kept from pass to pass, so that its words are measured once.
  const feet = new Map<string, PdfNode>();
  const definition = {
    content,
    pageSize: { width: mm(sheet.widthMm), height: mm(sheet.heightMm) },
    pageMargins: [mm(MARGIN_MM.left), top, mm(MARGIN_MM.right), foot.height],
    defaultStyle: { font: BODY_FACE, ...typeOf(scale.body) },
    version: "1.7",
    tagged: true,
    language: letter.language,
    displayTitle: true,
    info: {
      title: cleanText(letter.title),
      creator: "Whorl",
      producer: "Whorl",
      creationDate: new Date(`${letter.date}T00:00:00Z`),
    },
    background: (page: number) => setBackdrop(letter, page),
    footer: (page: number, pages: number) => {
      count.pages = pages;
      const key = `${page}/${pages}`;
      const node = feet.get(key) ?? foot.node(page, pages);
      feet.set(key, node);
      return node;
    },
  };
  return { definition, root, flow, count };
}

function collect(document: EngineDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    // The stream ends only for someone who listens; the bytes do not go through it.
    document.on("data", () => undefined);
    document.on("end", () => resolve(bytesOf(document)));
    document.on("error", reject);
    document.end();
  });
}

const refuseUrls = {
  resolve: () => undefined,
  resolved: () => Promise.resolve(),
};

/** Copies, since the engine writes into the font table it is given. */
function fontTable(): object {
  return Object.fromEntries(Object.entries(TYPEFACES).map(([name, cuts]) => [name, { ...cuts }]));
}

interface LaidOut extends Composed {
  readonly document: EngineDocument;
}

/** Lays the pages out; `drawPages` then draws them. */
async function layOut(composed: Composed): Promise<LaidOut> {
  const { Printer } = loadEngine((engine) => {
    amendForFonts(engine);
    amendForFiles(engine);
    amendForSpeed(engine);
    amendForFlow(engine);
    amendForTags(engine);
  });
  const printer = new Printer(fontTable(), null, refuseUrls, () => true);
  return {
    ...composed,
    document: await printer.createPdfKitDocument(composed.definition, {}),
  };
}

/** A last page filled less than this is worth a few tries at setting the letter closer. */
const SPARSE_PAGE = 0.45;

/** How full a page mostly is where a block that did not fit went to the next. */
const FULLNESS = 0.8;

/**
 * Sets a letter as PDF. Equal letters give equal bytes. Problems: anything outside the HTML vocabulary, characters no typeface
 * has, photos that are missing, content that would not appear. Messages never hold the letter's words.
 */
export async function renderPdf(letter: Letter): Promise<Outcome<RenderedPdf>> {
  const markup = readMarkup(letter.html);
  if (!markup.value) return { problems: markup.problems };
  const problems = [...markup.problems];
  const scale = SCALES[letter.typeSize];
  const composed = compose(letter, markup.value, scale, problems);
  if (hasError(problems)) return { problems };
  try {
    const markupRead = markup.value;
    const laidOut = await closerIfSparse(await layOut(composed), (degree) =>
      layOut(compose(letter, markupRead, tightened(scale, degree), [])),
    );
    drawPages(laidOut.document);
    writeStructure(laidOut.document, laidOut.root);
    return {
      value: { bytes: await collect(laidOut.document), pages: laidOut.count.pages },
      problems,
    };
  } catch (error) {
    return { problems: [...problems, asProblem(error)] };
  }
}

function isSparse({ count, flow }: LaidOut): boolean {
  return count.pages > 1 && flow.lastPageFilled <= SPARSE_PAGE;
}

/** The letter set closer by the least degree that should save a page, when its last page is nearly empty; else as it was. */
async function closerIfSparse(
  plain: LaidOut,
  closer: (degree: number) => Promise<LaidOut>,
): Promise<LaidOut> {
  const closest = TIGHTER.at(-1);
  if (!isSparse(plain) || closest === undefined) return plain;
  // When the closest setting saves no page, the others need not be tried.
  const last = await closer(closest);
  if (last.count.pages >= plain.count.pages) return plain;
  // What runs over against what the closest setting leaves empty: about the share of that setting that is needed, on the
  // high side, since a page seldom ends where it is full.
  const over = plain.flow.lastPageFilled;
  const needed = (closest * over * FULLNESS) / (over + 1 - last.flow.lastPageFilled);
  for (const degree of TIGHTER.filter((d) => d >= needed && d < closest)) {
    const next = await closer(degree);
    if (next.count.pages < plain.count.pages) return next;
  }
  return last;
}

/** The engine's messages can hold cell text, so only the kind of error is passed on. */
function asProblem(error: unknown): Problem {
  if (error instanceof ContentLost) {
    return pageError("content-lost", `not everything in ${error.where} could be placed on a page`, {
      found: error.where,
    });
  }
  return pageError(
    "page-failed",
    `the page could not be made (${error instanceof Error ? error.name : "unknown error"})`,
  );
}
