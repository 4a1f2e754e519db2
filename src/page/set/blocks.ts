/** Block elements -> the engine's nodes, with the space between them. */
import { childElements, type Element, type Node, plainText } from "../html/markup.js";
import { ELEMENTS } from "../html/vocabulary.js";
import { PALETTE } from "../type/palette.js";
import { setBeside, setBox, setHeld, setSheet } from "./boxes.js";
import type { FlowRule, PdfNode } from "./content.js";
import { setFigure } from "./figure.js";
import { setDefinitions, setList, setPictured } from "./list.js";
import {
  type BlocksOptions,
  type Setting,
  setParagraph,
  setRule,
  type WordsNodeOptions,
  withSpaceAbove,
} from "./setting.js";
import { setTable } from "./table.js";

/** Space above an element, in gaps. */
const SPACE_ABOVE: Readonly<Record<string, number>> = {
  h1: 2.4,
  h2: 2.4,
  h3: 1.7,
  table: 1.5,
  figure: 1.6,
  div: 1.6,
  aside: 1.8,
  hr: 1.6,
};

/** Elements with a frame or shape of their own, which need air around them. */
const STANDS_OUT: ReadonlySet<string> = new Set(["aside", "table", "figure", "div"]);

function spaceAbove(
  element: Element,
  before: Element | undefined,
  setting: Setting,
  tightness: number,
): number {
  if (!before) return 0;
  const { gap } = setting.scale;
  if (element.classes.includes("signature")) return gap * 2.2;
  const opening = childElements(element)[0];
  if (element.name === "section" && opening) return spaceAbove(opening, before, setting, tightness);
  if (/^h[1-3]$/.test(before.name))
    return gap * (before.name === "h1" || STANDS_OUT.has(element.name) ? 1 : 0.5);
  const boxed = STANDS_OUT.has(before.name) ? 2 : 0;
  return gap * Math.max(SPACE_ABOVE[element.name] ?? tightness, boxed);
}

/** Words that end with a colon belong to what follows. */
function leadsIn(element: Element, next: Element | undefined): boolean {
  return (
    next !== undefined && ["ul", "ol", "table", "dl"].includes(next.name) && /:\s*$/.test(plainText(element))
  );
}

function setHeading(setting: Setting, element: Element): PdfNode | undefined {
  const level = element.name === "h1" ? "h1" : element.name === "h2" ? "h2" : "h3";
  return setParagraph(setting, element, element.children, {
    style: setting.scale[level],
    color: PALETTE.accent,
    rule: "heading",
    type: `H${setting.headingLevels.get(element) ?? 1}`,
    title: plainText(element),
  });
}

function setText(
  setting: Setting,
  element: Element,
  next: Element | undefined,
  options: BlocksOptions,
): PdfNode | undefined {
  const { scale } = setting;
  const rule: FlowRule = leadsIn(element, next) ? "heading" : "text";
  const settings: WordsNodeOptions = {
    rule,
    ...(options.color ? { color: options.color } : {}),
    ...(options.alignment ? { alignment: options.alignment } : {}),
    ...(element.classes.includes("subject") ? { style: scale.subject, rule: "heading" } : {}),
    ...(setting.headingLevels.has(element)
      ? { type: `H${setting.headingLevels.get(element)}`, title: plainText(element) }
      : {}),
    ...(element.classes.includes("small") ? { style: scale.small, color: PALETTE.quiet } : {}),
  };
  const node = setParagraph(setting, element, element.children, settings);
  return node && withinMeasure(node, setting);
}

/** Keeps lines of running text to a readable length. */
function withinMeasure(node: PdfNode, setting: Setting): PdfNode {
  const longest = (node.fontSize ?? setting.style.size) * setting.measureEms;
  const spare = Math.max(0, setting.width - longest);
  node.margin = [node.margin?.[0] ?? 0, node.margin?.[1] ?? 0, spare, 0];
  return node;
}

function setBlock(
  setting: Setting,
  element: Element,
  next: Element | undefined,
  options: BlocksOptions,
): PdfNode | undefined {
  switch (element.name) {
    case "h1":
    case "h2":
    case "h3":
      return setHeading(setting, element);
    case "p":
    case "address":
      return setText(setting, element, next, options);
    case "ul":
      return element.classes.includes("pictured") ? setPictured(setting, element) : setList(setting, element);
    case "ol":
      return setList(setting, element);
    case "dl":
      return setDefinitions(setting, element);
    case "table":
      return setTable(setting, element);
    case "figure":
      return setFigure(setting, element);
    case "div":
      return setBeside(setting, element);
    case "aside":
      return setBox(setting, element);
    case "section":
      return element.classes.includes("sheet") ? setSheet(setting, element) : setHeld(setting, element);
    case "hr":
      return setRule(setting);
    default:
      return undefined;
  }
}

/** Sets the children of `parent`: blocks as they are, words between them as paragraphs. */
export function setBlocks(setting: Setting, parent: Element, options: BlocksOptions = {}): PdfNode[] {
  const nodes: PdfNode[] = [];
  const elements = childElements(parent).filter((child) => ELEMENTS[child.name]?.isInline !== true);
  let before: Element | undefined;
  let words: Node[] = [];
  const flushWords = () => {
    const pending = words;
    words = [];
    if (pending.every((node) => plainText(node).trim() === "")) return;
    const node = setParagraph(setting, parent, pending, {
      type: options.wordsType === undefined ? "P" : options.wordsType,
      ...(options.color ? { color: options.color } : {}),
      ...(options.alignment ? { alignment: options.alignment } : {}),
    });
    if (node) nodes.push(withSpaceAbove(node, nodes.length === 0 ? 0 : setting.scale.gap * 0.5));
  };
  for (const child of parent.children) {
    if (child.kind === "words" || ELEMENTS[child.name]?.isInline) {
      words.push(child);
      continue;
    }
    flushWords();
    const next = elements[elements.indexOf(child) + 1];
    const node = setBlock(setting, child, next, options);
    if (node) {
      const tightness = options.tightness ?? 1;
      nodes.push(
        withSpaceAbove(
          node,
          nodes.length === 0 ? 0 : Math.max(spaceAbove(child, before, setting, tightness), 0),
        ),
      );
      before = child;
    }
  }
  flushWords();
  return nodes;
}
