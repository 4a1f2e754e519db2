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

/** White space comes and goes at line ends; every other character has to arrive. */
function charactersOf(text: string): string {
  return text.replace(/\s+/g, "");
}

const DRAWING = "drawing";

/** What the nodes below `node` hand over: the characters of each text, a mark for each drawing. */
function collectHanded(node: PdfNode, handed: Map<Content, string>): void {
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
    const words =
      type === "line" ? charactersOf((item.inlines ?? []).map(({ text }) => text).join("")) : DRAWING;
    placed.set(content, (placed.get(content) ?? "") + words);
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
  const handed = new Map<Content, string>();
  for (const node of nodes) collectHanded(node, handed);
  const { placed, overfull } = collectPlaced(pages);
  return [...handed].flatMap(([content, words]) =>
    !isWhole(content, words, placed.get(content) ?? "") || overfull.has(content) ? [content] : [],
  );
}

function isMarked(tag: Tag): boolean {
  return tag.kids.some((kid) => kid.kind !== "tag" || isMarked(kid));
}

/** Throws for content with a structure element of its own under which nothing was drawn. */
export function checkMarked(nodes: readonly PdfNode[]): void {
  const handed = new Map<Content, string>();
  for (const node of nodes) collectHanded(node, handed);
  for (const [{ tag, block }, words] of handed) {
    if (words !== "" && tag && !isMarked(tag)) throw new ContentLost(block.where);
  }
}
