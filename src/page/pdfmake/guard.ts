/**
 * Holds the content handed to the engine against the characters and drawings on its finished pages. The engine drops what it
 * cannot place in silence, and a patch that no longer bites may empty a letter; here neither goes unnoticed.
 */
import type { Content, LaidPage, PdfNode } from "../set/content.js";
import type { Tag } from "../set/structure.js";

/** Thrown when content would be missing from the pages; `where` names its element, never its words. */
export class ContentLost extends Error {
  constructor(readonly where: string) {
    super(`content lost: ${where}`);
  }
}

const SPACE = /\s/;

/** White space comes and goes at line ends; every other character has to arrive. */
function charactersOf(text: string): string {
  const bare = text.trim();
  return SPACE.test(bare) ? bare.replace(/\s+/g, "") : bare;
}

const DRAWING = "drawing";

type Handed = Map<Content, string>;

/** By node: its words are the same in every pass over the pages. */
const known = new WeakMap<PdfNode, Handed>();

/** What `node` and the nodes below hand over: the characters of each text, a mark for each drawing. */
function handedBy(node: PdfNode): Handed {
  let handed = known.get(node);
  if (!handed) {
    handed = new Map();
    collectHanded(node, handed);
    known.set(node, handed);
  }
  return handed;
}

function collectHanded(node: PdfNode, handed: Handed): void {
  if (node.content) {
    const words = typeof node.text === "string" ? node.text : node.text?.map((run) => run.text).join("");
    if (words !== undefined) handed.set(node.content, charactersOf(words));
    if (node.svg !== undefined || node.image !== undefined) handed.set(node.content, DRAWING);
  }
  for (const child of [node.stack, node.columns, node.ul, node.ol, ...(node.table?.body ?? [])].flat()) {
    if (child) collectHanded(child, handed);
  }
}

/** What stands on the pages, and the texts of which a line runs out of its column. */
function collectPlaced(pages: readonly LaidPage[]): { placed: Map<Content, string>; overfull: Set<Content> } {
  const placed = new Map<Content, string>();
  const overfull = new Set<Content>();
  for (const { type, item } of pages.flatMap((page) => page.items)) {
    const { content } = item;
    if (!content) continue;
    let words = placed.get(content) ?? "";
    if (type !== "line") words += DRAWING;
    for (const { text } of item.inlines ?? []) words += SPACE.test(text) ? charactersOf(text) : text;
    placed.set(content, words);
    if ((item.getWidth?.() ?? 0) > (item.maxWidth ?? Number.POSITIVE_INFINITY) + 0.5) overfull.add(content);
  }
  return { placed, overfull };
}

function isRepeated({ block }: Content): boolean {
  for (let around: Content["block"] | null = block; around; around = around.parent) {
    if (around.repeats) return true;
  }
  return false;
}

function isWhole(content: Content, handed: string, placed: string): boolean {
  if (placed === handed) return true;
  const times = placed.length / handed.length;
  return isRepeated(content) && times > 1 && placed === handed.repeat(Math.round(times));
}

/** Content of `nodes` that is not on the pages whole and unchanged, or stands there out of its column. */
export function lostFrom(pages: readonly LaidPage[], nodes: readonly PdfNode[]): Content[] {
  const { placed, overfull } = collectPlaced(pages);
  const lost: Content[] = [];
  for (const [content, words] of nodes.flatMap((node) => [...handedBy(node)])) {
    if (!isWhole(content, words, placed.get(content) ?? "") || overfull.has(content)) lost.push(content);
  }
  return lost;
}

/** How many characters of a word are not white space; most words come again in every pass. */
const lengths = new Map<string, number>();
const LENGTHS_KEPT = 8000;

function lengthOf(text: string): number {
  let length = lengths.get(text);
  if (length === undefined) {
    if (lengths.size >= LENGTHS_KEPT) lengths.clear();
    length = charactersOf(text).length;
    lengths.set(text, length);
  }
  return length;
}

/**
 * Content of `node` of which the pages hold fewer or more characters than were handed over, or that runs out of its column: a
 * quick look between passes. `lostFrom` then holds finished pages against every character.
 */
export function missingFrom(pages: readonly LaidPage[], node: PdfNode): Content[] {
  const placed = new Map<Content, number>();
  const overfull = new Set<Content>();
  for (const { items } of pages) {
    for (const { type, item } of items) {
      const { content, inlines } = item;
      if (!content) continue;
      let length = placed.get(content) ?? 0;
      if (type !== "line") length += DRAWING.length;
      if (inlines) for (const { text } of inlines) length += lengthOf(text);
      placed.set(content, length);
      if (item.getWidth && item.maxWidth !== undefined && item.getWidth() > item.maxWidth + 0.5)
        overfull.add(content);
    }
  }
  const missing: Content[] = [];
  for (const [content, { length }] of handedBy(node)) {
    const found = placed.get(content) ?? 0;
    const isWhole = found === length || (found > length && isRepeated(content) && found % length === 0);
    if (!isWhole || overfull.has(content)) missing.push(content);
  }
  return missing;
}

function isMarked(tag: Tag): boolean {
  return tag.kids.some((kid) => kid.kind !== "tag" || isMarked(kid));
}

/** Throws for content with a structure element of its own under which nothing was drawn. */
export function checkMarked(nodes: readonly PdfNode[]): void {
  for (const [{ tag, block }, words] of nodes.flatMap((node) => [...handedBy(node)])) {
    if (words !== "" && tag && !isMarked(tag)) throw new ContentLost(block.where);
  }
}
