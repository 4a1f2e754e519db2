/** A letter's markup -> all that the engine needs to lay it out: content, foot, backdrop, document data. */
import { SHEETS } from "../../base/paper.js";
import type { Problem } from "../../base/problem.js";
import type { Letter } from "../../letter/document.js";
import { type Element, headingLevels } from "../html/markup.js";
import { cleanText } from "../type/characters.js";
import { BODY_FACE, type Faces, facesInUse, using } from "../type/fonts.js";
import { MARGIN_MM, mm } from "../type/paper.js";
import type { Scale } from "../type/scale.js";
import { setBlocks } from "./blocks.js";
import type { Block, PdfNode } from "./content.js";
import { setBackdrop, setFoot } from "./foot.js";
import { setHead, splitHead } from "./letter-head.js";
import { PageBreaks } from "./page-breaks.js";
import { type Setting, typeOf, withSpaceAbove } from "./setting.js";
import { addTag, type Tag } from "./structure.js";

export interface Composed {
  readonly definition: object;
  readonly root: Tag;
  readonly flow: PageBreaks;
  readonly count: { pages: number };
  readonly faces: Faces;
}

type PageNode = (page: number, pages: number) => PdfNode | undefined;

function remembered(make: PageNode): PageNode {
  const made = new Map<string, PdfNode | undefined>();
  return (page, pages) => {
    const key = `${page}/${pages}`;
    const node = made.has(key) ? made.get(key) : make(page, pages);
    made.set(key, node);
    return node;
  };
}

export interface ComposeOptions {
  readonly mayMoveTables?: boolean;
  /** With this many pages or more the setting will not be chosen, and its breaks need not be looked for. */
  readonly fewerThan?: number | undefined;
}

/** Sets `markup` at `scale`. What cannot be set is added to `problems`. */
export function compose(
  letter: Letter,
  markup: Element,
  scale: Scale,
  problems: Problem[],
  { mayMoveTables = true, fewerThan }: ComposeOptions = {},
): Composed {
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
    breakable: true,
    style: scale.body,
    measureEms: scale.measureEms,
    setBlocks,
  };
  const split = splitHead(markup);
  const headNodes = setHead(setting, split.head);
  const bodyNodes = setBlocks(setting, split.body);
  const first = bodyNodes[0];
  if (first && headNodes.length > 0) withSpaceAbove(first, scale.gap * 2);
  // Kept from pass to pass, so that words are measured once and what was handed over can be found on the pages.
  const faces = facesInUse();
  const pageNode = remembered((page, pages) => using(faces, () => foot.node(page, pages)));
  const backdrop = remembered((page) => using(faces, () => setBackdrop(letter, page)));
  const body: PdfNode = { stack: [...headNodes, ...bodyNodes] };
  const handed = (pages: number) => [
    body,
    ...Array.from({ length: pages }, (_, i) => [pageNode(i + 1, pages), backdrop(i + 1, 0)]).flat(),
  ];
  const flow = new PageBreaks(
    blocks,
    { top, height: pageHeight },
    (pages) => handed(pages).filter((node) => node !== undefined),
    { smallestDrawing: scale.smallestDrawing, mayMoveTables, fewerThan },
  );
  const content: PdfNode = { ...body, flow };
  const count = { pages: 0 };
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
    background: (page: number) => backdrop(page, 0),
    footer: (page: number, pages: number) => {
      count.pages = pages;
      return pageNode(page, pages);
    },
  };
  return { definition, root, flow, count, faces };
}
