/** The blocks of a letter as paragraphs and tables of an office document. */
import {
  BorderStyle,
  HeadingLevel,
  type IParagraphOptions,
  Paragraph,
  type ParagraphChild,
  ShadingType,
  Table,
  TableCell,
  TableLayoutType,
  TableRow,
  WidthType,
} from "docx";
import type { Letter } from "../letter/document.js";
import { BULLETS, colour, halfPoints, NO_BORDERS, NUMBERS, rule, twips } from "./docx-parts.js";
import { pictureOf, runsOf } from "./docx-words.js";
import { childElements, type Element, type Node } from "./markup.js";
import { PALETTE } from "./palette.js";
import type { Scale } from "./scale.js";
import { ELEMENTS } from "./vocabulary.js";

export type Block = Paragraph | Table;

export interface DocxSetting {
  readonly letter: Letter;
  readonly scale: Scale;
  /** Numbered lists so far: each starts again from its own number. */
  readonly lists: { count: number };
}

/** Where a block stands. */
export interface Around {
  readonly widthPt: number;
  readonly isTable?: boolean;
  readonly keepNext?: boolean;
  /** The list that the first paragraph of an item opens. */
  readonly item?: { readonly reference: string; readonly level: number; readonly instance: number };
  readonly level?: number;
}

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
  const spacing = around.isTable ? { spacing: { before: 20, after: 20 } } : {};
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
        ? [pictured(element, setting, around)]
        : list(element, setting, around);
    case "dl":
      return [definitions(element, setting, around)];
    case "table":
      return table(element, setting, around);
    case "figure":
      return blocksOf(element, setting, { ...around, keepNext: true });
    case "svg":
    case "img": {
      const picture = pictureOf(element, setting.letter, around.widthPt);
      return picture ? [paragraph([picture], around)] : [];
    }
    case "figcaption":
      return [paragraph(runsOf(element.children, scale, small(scale)), { ...around, keepNext: false })];
    case "hr":
      return [new Paragraph({ border: { bottom: { ...rule(PALETTE.hairline), space: 1 } }, children: [] })];
    case "div":
      return [beside(element, setting, around)];
    case "aside":
      return [boxed(element, setting, around), gap()];
    case "section":
      return blocksOf(element, setting, { ...around, keepNext: true });
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
  const level = Math.min(2, around.level === undefined ? 0 : around.level + 1);
  setting.lists.count += 1;
  const instance = setting.lists.count;
  const reference = element.name === "ol" ? NUMBERS : BULLETS;
  return childElements(element).flatMap((child) =>
    blocksOf(child, setting, { ...around, level, item: { reference, level, instance } }),
  );
}

/** A table that only places things side by side, without a line. */
function placing(rows: readonly TableRow[], widths: readonly number[]): Table {
  return new Table({
    rows,
    borders: NO_BORDERS,
    layout: TableLayoutType.FIXED,
    width: { size: 100, type: WidthType.PERCENTAGE },
    columnWidths: widths.map(twips),
  });
}

function cell(children: Block[], widthPt: number, more: { header?: boolean; span?: number } = {}): TableCell {
  // A cell must end with a paragraph.
  const ends =
    children.at(-1) instanceof Paragraph ? children : [...children, new Paragraph({ children: [] })];
  return new TableCell({
    children: ends,
    width: { size: twips(widthPt), type: WidthType.DXA },
    margins: { right: twips(6) },
    ...(more.span ? { columnSpan: more.span } : {}),
  });
}

function pictured(element: Element, setting: DocxSetting, around: Around): Table {
  const side = 44;
  const widths = [side + 8, around.widthPt - side - 8];
  const rows = childElements(element).map((item) => {
    const picture = childElements(item).find((c) => c.name === "svg" || c.name === "img");
    const words = { ...item, children: item.children.filter((c) => c !== picture) };
    const drawn = picture && pictureOf(picture, setting.letter, side);
    return new TableRow({
      cantSplit: true,
      children: [
        cell([new Paragraph({ children: drawn ? [drawn] : [] })], widths[0] ?? 0),
        cell(blocksOf(words, setting, { widthPt: widths[1] ?? 0 }), widths[1] ?? 0),
      ],
    });
  });
  return placing(rows, widths);
}

function definitions(element: Element, setting: DocxSetting, around: Around): Table {
  const widths = [around.widthPt * 0.22, around.widthPt * 0.78];
  const [termWidth = 0, restWidth = 0] = widths;
  const rows: TableRow[] = [];
  let term: Element | undefined;
  for (const child of childElements(element)) {
    if (child.name === "dt") {
      term = child;
      continue;
    }
    const words = term ? runsOf(term.children, setting.scale, { bold: true }) : [];
    const said = blocksOf(child, setting, { widthPt: restWidth });
    rows.push(
      new TableRow({
        cantSplit: true,
        children: [cell([new Paragraph({ children: words })], termWidth), cell(said, restWidth)],
      }),
    );
    term = undefined;
  }
  return placing(rows, widths);
}

/** Shares of a width as points; a star takes what is left over. */
function shares(element: Element, columns: number, widthPt: number): number[] {
  const given = element.attributes["data-widths"]?.trim().split(/\s+/u) ?? [];
  const numbers = Array.from({ length: columns }, (_, i) => Number(given[i] ?? "*"));
  const taken = numbers.reduce((sum, n) => sum + (Number.isFinite(n) ? n : 0), 0);
  const stars = numbers.filter((n) => !Number.isFinite(n)).length;
  const whole = stars > 0 ? Math.max(100, taken) : taken;
  return numbers.map((n) => ((Number.isFinite(n) ? n : (whole - taken) / stars) / whole) * widthPt);
}

function beside(element: Element, setting: DocxSetting, around: Around): Table {
  const parts = childElements(element);
  const widths = shares(element, parts.length, around.widthPt);
  const children = parts.map((part, i) => {
    const widthPt = widths[i] ?? 0;
    const inner = part.name === "section" || part.name === "figure" ? part : { ...part, children: [part] };
    return cell(blocksOf(inner, setting, { widthPt: widthPt - 8 }), widthPt);
  });
  return placing([new TableRow({ children })], widths);
}

const MARKS = {
  summary: { shading: { type: ShadingType.CLEAR, fill: colour(PALETTE.tint), color: "auto" }, bar: true },
  caution: { bar: false },
  "clinician-only": { bar: false },
} as const;

/** A box: tinted with a bar for the summary, framed for cautions, dashed for what only the clinician reads. */
function boxed(element: Element, setting: DocxSetting, around: Around): Table {
  const kind = element.classes.includes("summary")
    ? "summary"
    : element.classes.includes("caution")
      ? "caution"
      : "clinician-only";
  const mark = MARKS[kind];
  const none = { style: BorderStyle.NONE, size: 0, color: "auto" } as const;
  const frame = { ...rule(PALETTE.ink), ...(kind === "clinician-only" ? { style: BorderStyle.DASHED } : {}) };
  const line = mark.bar ? none : frame;
  const inner = new TableCell({
    children: withLastParagraph(blocksOf(element, setting, { widthPt: around.widthPt - 20 })),
    margins: { top: twips(5), bottom: twips(5), left: twips(9), right: twips(9) },
    borders: { top: line, bottom: line, right: line, left: mark.bar ? rule(PALETTE.accent, 24) : frame },
    ...("shading" in mark ? { shading: mark.shading } : {}),
  });
  return new Table({
    rows: [new TableRow({ children: [inner] })],
    width: { size: 100, type: WidthType.PERCENTAGE },
    columnWidths: [twips(around.widthPt)],
  });
}

const withLastParagraph = (blocks: Block[]): Block[] =>
  blocks.at(-1) instanceof Paragraph ? blocks : [...blocks, gap()];

/** Two tables that touch would become one. */
function gap(): Paragraph {
  return new Paragraph({ children: [], spacing: { after: 0, line: 120 } });
}

function table(element: Element, setting: DocxSetting, around: Around): Block[] {
  const { scale } = setting;
  const isReference = element.classes.includes("reference");
  const rows = childElements(element).flatMap((part) =>
    part.name === "caption" ? [] : childElements(part).map((row) => ({ row, isHead: part.name === "thead" })),
  );
  const columns = Math.max(
    1,
    ...rows.map(({ row }) => childElements(row).reduce((n, c) => n + spanOf(c), 0)),
  );
  const widths = isReference ? [90, around.widthPt - 90] : shares(element, columns, around.widthPt);
  const caption = childElements(element).find((part) => part.name === "caption");
  const made = rows.map(({ row, isHead }) => {
    let at = 0;
    const children = childElements(row).map((c) => {
      const span = spanOf(c);
      const widthPt = widths.slice(at, at + span).reduce((a, b) => a + b, 0);
      at += span;
      return cell(cellBlocks(c, setting, widthPt, isHead, isReference), widthPt, { span });
    });
    return new TableRow({ children, tableHeader: isHead, cantSplit: true });
  });
  const line = rule(PALETTE.hairline);
  return [
    ...(caption
      ? [paragraph(runsOf(caption.children, scale, { bold: true }), { ...around, keepNext: true })]
      : []),
    new Table({
      rows: made,
      layout: TableLayoutType.FIXED,
      width: { size: 100, type: WidthType.PERCENTAGE },
      columnWidths: widths.map(twips),
      borders: isReference ? NO_BORDERS : { ...NO_BORDERS, bottom: line, insideHorizontal: line },
    }),
    gap(),
  ];
}

const spanOf = (element: Element): number => Number(element.attributes.colspan ?? 1) || 1;

function cellBlocks(
  c: Element,
  setting: DocxSetting,
  widthPt: number,
  isHead: boolean,
  isReference: boolean,
): Block[] {
  const isLoud = c.name === "th" && !isReference;
  const onlyWords = c.children.every((n) => n.kind === "words" || ELEMENTS[n.name]?.isInline);
  if (!onlyWords) return blocksOf(c, setting, { widthPt: widthPt - 6, isTable: true });
  const style = {
    size: halfPoints(setting.scale.table.size),
    ...(isLoud ? { bold: true } : {}),
    ...(isHead || (c.name === "th" && isReference) ? { color: colour(PALETTE.quiet) } : {}),
  };
  return [paragraph(runsOf(c.children, setting.scale, style), { widthPt, isTable: true })];
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
