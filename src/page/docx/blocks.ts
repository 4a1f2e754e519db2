/** The blocks of a letter as paragraphs and tables of an office document. */
import { HeadingLevel, type IParagraphOptions, Paragraph, type ParagraphChild } from "docx";
import { childElements, type Element, type Node } from "../html/markup.js";
import { ELEMENTS } from "../html/vocabulary.js";
import { PALETTE } from "../type/palette.js";
import type { Scale } from "../type/scale.js";
import { BULLETS, CELL_SPACING, colour, halfPoints, NUMBERS, rule, twips } from "./parts.js";
import { pictureOf, runsOf } from "./runs.js";
import type { Around, Block, DocxSetting } from "./setting.js";
import { beside, boxed, definitions, gap, pictured, table } from "./tables.js";

/** The blocks below `parent`; words standing directly in it become paragraphs. */
export function blocksOf(parent: Element, setting: DocxSetting, around: Around): Block[] {
  const blocks: Block[] = [];
  let pending: Node[] = [];
  let item = around.item;
  const add = (more: Block[]) => {
    blocks.push(...more);
    if (more.length > 0) item = undefined;
  };
  const here = (): Around => ({ ...around, ...(item ? {} : { item: undefined }) });
  const flush = () => {
    const runs = runsOf(pending, setting.scale, textStyle(setting, around));
    pending = [];
    if (runs.length > 0) add([paragraph(runs, here())]);
  };
  for (const child of parent.children) {
    if (child.kind === "words" || ELEMENTS[child.name]?.isInline) pending.push(child);
    else {
      flush();
      add(block(child, setting, here()));
    }
  }
  flush();
  return blocks;
}

const textStyle = ({ scale }: DocxSetting, around: Around) =>
  around.isTable ? { size: halfPoints(scale.table.size) } : {};

function paragraph(
  children: readonly ParagraphChild[],
  around: Around,
  more: IParagraphOptions = {},
): Paragraph {
  const inside = around.item
    ? { numbering: around.item }
    : around.level !== undefined
      ? { indent: { left: twips(14 * (around.level + 1)) } }
      : {};
  const spacing = around.isTable ? { spacing: CELL_SPACING } : {};
  return new Paragraph({
    ...inside,
    ...spacing,
    ...(around.keepNext ? { keepNext: true } : {}),
    ...more,
    children,
  });
}

const HEADINGS = {
  h1: HeadingLevel.HEADING_1,
  h2: HeadingLevel.HEADING_2,
  h3: HeadingLevel.HEADING_3,
} as const;

function block(element: Element, setting: DocxSetting, around: Around): Block[] {
  const { scale } = setting;
  switch (element.name) {
    case "h1":
    case "h2":
    case "h3":
      return [new Paragraph({ heading: HEADINGS[element.name], children: runsOf(element.children, scale) })];
    case "ul":
    case "ol":
      return element.classes.includes("pictured")
        ? [pictured(element, setting, around), gap()]
        : list(element, setting, around);
    case "dl":
      return [definitions(element, setting, around), gap()];
    case "table":
      return table(element, setting, around);
    case "figure":
      return blocksOf(element, setting, { ...around, keepNext: true });
    case "svg":
    case "img": {
      const picture = pictureOf(element, setting, around.widthPt);
      return picture ? [paragraph([picture], around)] : [];
    }
    case "figcaption":
      return [paragraph(runsOf(element.children, scale, small(scale)), { ...around, keepNext: false })];
    case "hr":
      return [new Paragraph({ border: { bottom: { ...rule(PALETTE.hairline), space: 1 } }, children: [] })];
    case "div":
      return [beside(element, setting, around), gap()];
    case "aside":
      return [boxed(element, setting, around), gap()];
    case "section":
      return element.classes.includes("sheet")
        ? [new Paragraph({ pageBreakBefore: true, children: [] }), ...blocksOf(element, setting, around)]
        : blocksOf(element, setting, { ...around, keepNext: true });
    case "header":
      return letterhead(element, setting, around);
    case "address":
      return [
        paragraph(runsOf(element.children, scale), around, {
          spacing: { before: twips(28), after: twips(28) },
        }),
      ];
    default:
      return lineOfText(element, setting, around);
  }
}

const small = (scale: Scale) => ({ size: halfPoints(scale.small.size), color: colour(PALETTE.quiet) });

function lineOfText(element: Element, setting: DocxSetting, around: Around): Block[] {
  const { scale } = setting;
  const style = element.classes.includes("subject")
    ? { bold: true, size: halfPoints(scale.subject.size) }
    : element.classes.includes("small")
      ? small(scale)
      : textStyle(setting, around);
  const runs = runsOf(element.children, scale, style);
  return runs.length > 0 ? [paragraph(runs, around)] : [];
}

function list(element: Element, setting: DocxSetting, around: Around): Block[] {
  const items = childElements(element);
  // One item needs no number.
  if (items.length === 1 && element.name === "ol" && !element.attributes.start)
    return items.flatMap((child) => blocksOf(child, setting, around));
  const level = Math.min(2, around.level === undefined ? 0 : around.level + 1);
  const isNumbered = element.name === "ol";
  if (isNumbered) setting.lists.count += 1;
  const instance = isNumbered ? setting.lists.count : 0;
  const reference = isNumbered ? NUMBERS : BULLETS;
  return items.flatMap((child) =>
    blocksOf(child, setting, { ...around, level, item: { reference, level, instance } }),
  );
}

function letterhead(element: Element, setting: DocxSetting, around: Around): Block[] {
  const { scale } = setting;
  const parts = childElements(element);
  const last = parts.at(-1);
  let isName = true;
  return parts.flatMap((part) => {
    if (part.name !== "p") return block(part, setting, around);
    const style = isName
      ? { bold: true, size: halfPoints(scale.clinic.size), color: colour(PALETTE.accent) }
      : { size: halfPoints(scale.letterhead.size), color: colour(PALETTE.quiet) };
    isName = false;
    const border = part === last ? { border: { bottom: { ...rule(PALETTE.hairline), space: 4 } } } : {};
    return [paragraph(runsOf(part.children, scale, style), around, { spacing: { after: 0 }, ...border })];
  });
}
