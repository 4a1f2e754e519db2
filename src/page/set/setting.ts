/** What setting a block needs to know about its surroundings, and the small acts every block shares. */
import type { Problem } from "../../base/problem.js";
import type { Letter } from "../../letter/document.js";
import { type Element, type Node, nameOf } from "../html/markup.js";
import { cleanText } from "../type/characters.js";
import { BODY_FACE, naturalLine } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import type { Scale, Style } from "../type/scale.js";
import type { Block, Content, FlowRule, PdfNode } from "./content.js";
import { setWords } from "./runs.js";
import { addTag, type Tag } from "./structure.js";

export interface BlocksOptions {
  /** Structure type of words that stand directly in a block, such as in a table cell; null adds none. */
  readonly wordsType?: string | null;
  readonly color?: string;
  readonly alignment?: string;
  /** Space above paragraphs and lists, as a share of the usual. */
  readonly tightness?: number;
}

export interface Setting {
  readonly letter: Letter;
  readonly scale: Scale;
  readonly problems: Problem[];
  /** All blocks so far, in reading order. */
  readonly blocks: Block[];
  /** Width of the column in points. */
  readonly width: number;
  /** Height of the text area of a page in points. */
  readonly pageHeight: number;
  readonly tag: Tag;
  /** Level of each heading in the structure tree. */
  readonly headingLevels: ReadonlyMap<Element, number>;
  readonly block: Block | null;
  /** False in cells, columns and boxes. */
  readonly breakable: boolean;
  /** In the value beside a label. */
  readonly isValue?: boolean;
  /** Type of running text here. */
  readonly style: Style;
  /** Longest line of running text in ems; boxes may be set wider. */
  readonly measureEms: number;
  /** Sets the children of `parent`: blocks as they are, words between them as paragraphs. */
  setBlocks(setting: Setting, parent: Element, options?: BlocksOptions): PdfNode[];
}

/** The engine's properties for a style. */
export function typeOf(style: Style): Pick<PdfNode, "fontSize" | "lineHeight" | "bold"> {
  return {
    fontSize: style.size,
    lineHeight: style.leading / (style.size * naturalLine(BODY_FACE)),
    ...(style.bold ? { bold: true } : {}),
  };
}

/** A new block inside the current one. */
export function addBlock(
  setting: Setting,
  rule: FlowRule,
  element: Element,
  more: Partial<Block> = {},
): Block {
  const block: Block = {
    rule,
    where: `<${nameOf(element)}>`,
    parent: setting.block,
    breakable: setting.breakable,
    ...more,
  };
  setting.blocks.push(block);
  return block;
}

export interface WordsNodeOptions {
  readonly style?: Style;
  readonly color?: string;
  readonly rule?: FlowRule;
  /** Structure type, or null when the words belong to the surrounding element. */
  readonly type?: string | null;
  readonly alignment?: string;
  /** Of a heading: its words. */
  readonly title?: string;
  readonly isDetached?: boolean;
}

/** One paragraph of words from inline nodes; undefined when there are none. */
export function setParagraph(
  setting: Setting,
  element: Element,
  nodes: readonly Node[],
  options: WordsNodeOptions = {},
): PdfNode | undefined {
  const style = options.style ?? setting.style;
  const { type = "P" } = options;
  const lang = type === null ? undefined : element.attributes.lang;
  const tag =
    type === null
      ? setting.tag
      : addTag(setting.tag, type, {
          ...(lang ? { lang } : {}),
          ...(options.title ? { title: cleanText(options.title).replace(/\s+/g, " ").trim() } : {}),
        });
  const text = setWords(element, nodes, {
    style,
    smallSize: setting.scale.small.size,
    tag,
    problems: setting.problems,
  });
  if (text.length === 0) return undefined;
  const block = addBlock(
    setting,
    options.rule ?? "text",
    element,
    options.isDetached ? { detached: true } : {},
  );
  const content: Content = { block, tag };
  const node: PdfNode = {
    text,
    ...typeOf(style),
    color: options.color ?? PALETTE.ink,
    margin: [0, 0, 0, 0],
    content,
    ...(options.alignment ? { alignment: options.alignment } : {}),
  };
  block.node = node;
  return node;
}

/** Puts `space` above `node`. */
export function withSpaceAbove(node: PdfNode, space: number): PdfNode {
  node.margin = [node.margin?.[0] ?? 0, space, node.margin?.[2] ?? 0, 0];
  return node;
}

/** A hairline as wide as the text. */
export function setRule(setting: Setting): PdfNode {
  return {
    canvas: [
      {
        type: "line",
        x1: 0,
        y1: 0,
        x2: setting.width,
        y2: 0,
        lineWidth: 0.5,
        lineColor: PALETTE.hairline,
      },
    ],
    margin: [0, 0, 0, 0],
  };
}
