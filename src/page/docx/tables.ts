/** Tables of an office document: tables of the letter, things side by side, terms with their text, boxes. */
import {
  BorderStyle,
  LineRuleType,
  Paragraph,
  ShadingType,
  Table,
  TableCell,
  TableLayoutType,
  TableRow,
  WidthType,
} from "docx";
import { childElements, type Element, plainText } from "../html/markup.js";
import { ELEMENTS } from "../html/vocabulary.js";
import { textWidth } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import { CELL_SPACING, colour, halfPoints, NO_BORDERS, rule, twips } from "./parts.js";
import { pictureOf, runsOf } from "./runs.js";
import type { Around, Block, DocxSetting } from "./setting.js";

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

export function pictured(element: Element, setting: DocxSetting, around: Around): Table {
  const side = 44;
  const widths = [side + 8, around.widthPt - side - 8];
  const rows = childElements(element).map((item) => {
    const picture = childElements(item).find((c) => c.name === "svg" || c.name === "img");
    const words = { ...item, children: item.children.filter((c) => c !== picture) };
    const drawn = picture && pictureOf(picture, setting, side);
    return new TableRow({
      cantSplit: true,
      children: [
        cell([new Paragraph({ children: drawn ? [drawn] : [] })], widths[0] ?? 0),
        cell(setting.fill(words, { widthPt: widths[1] ?? 0 }), widths[1] ?? 0),
      ],
    });
  });
  return placing(rows, widths);
}

export function definitions(element: Element, setting: DocxSetting, around: Around): Table {
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
    const said = setting.fill(child, { widthPt: restWidth });
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

/** Space beside the words of a cell. */
const CELL_EDGES = 12;
/** How much wider another program may set words that it has no such typeface for. */
const STAND_IN = 1.2;

/** Columns too narrow for the longest word of their heading take what they lack from the widest. */
function withRoomForHeadings(
  widths: readonly number[],
  rows: readonly { row: Element; isHead: boolean }[],
  size: number,
): number[] {
  const roomy = [...widths];
  const heads = rows.filter(({ isHead }) => isHead).map(({ row }) => childElements(row));
  for (const cells of heads.filter((each) => each.length === widths.length)) {
    for (const [i, head] of cells.entries()) {
      const words = plainText(head).trim().split(/\s+/u);
      const least = Math.max(...words.map((word) => textWidth(word, size, "bold"))) * STAND_IN + CELL_EDGES;
      const lacking = least - (roomy[i] ?? 0);
      if (lacking <= 0) continue;
      const widest = roomy.indexOf(Math.max(...roomy));
      roomy[i] = least;
      roomy[widest] = (roomy[widest] ?? 0) - lacking;
    }
  }
  return roomy;
}

export function beside(element: Element, setting: DocxSetting, around: Around): Table {
  const parts = childElements(element);
  const widths = shares(element, parts.length, around.widthPt);
  const children = parts.map((part, i) => {
    const widthPt = widths[i] ?? 0;
    const inner = part.name === "section" || part.name === "figure" ? part : { ...part, children: [part] };
    return cell(setting.fill(inner, { widthPt: widthPt - 8 }), widthPt);
  });
  return placing([new TableRow({ children })], widths);
}

const MARKS = {
  summary: { shading: { type: ShadingType.CLEAR, fill: colour(PALETTE.tint), color: "auto" }, bar: true },
  caution: { bar: false },
  "clinician-only": { bar: false },
} as const;

/** A box: tinted with a bar for the summary, framed for cautions, dashed for what only the clinician reads. */
export function boxed(element: Element, setting: DocxSetting, around: Around): Table {
  const kind = element.classes.includes("summary")
    ? "summary"
    : element.classes.includes("caution")
      ? "caution"
      : "clinician-only";
  const mark = MARKS[kind];
  const none = { style: BorderStyle.NIL, size: 0, color: "auto" } as const;
  const frame = { ...rule(PALETTE.ink), ...(kind === "clinician-only" ? { style: BorderStyle.DASHED } : {}) };
  const line = mark.bar ? none : frame;
  const inner = new TableCell({
    children: withLastParagraph(setting.fill(element, { widthPt: around.widthPt - 20 })),
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
export function gap(): Paragraph {
  return new Paragraph({ children: [], spacing: { after: 0, line: 120, lineRule: LineRuleType.EXACT } });
}

export function table(element: Element, setting: DocxSetting, around: Around): Block[] {
  const { scale } = setting;
  const isReference = element.classes.includes("reference");
  const rows = childElements(element).flatMap((part) =>
    part.name === "caption" ? [] : childElements(part).map((row) => ({ row, isHead: part.name === "thead" })),
  );
  const columns = Math.max(
    1,
    ...rows.map(({ row }) => childElements(row).reduce((n, c) => n + spanOf(c), 0)),
  );
  const widths = isReference
    ? [90, around.widthPt - 90]
    : withRoomForHeadings(shares(element, columns, around.widthPt), rows, scale.table.size);
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
      ? [new Paragraph({ children: runsOf(caption.children, scale, { bold: true }), keepNext: true })]
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
  const isLoud = c.name === "th" && !isReference && !c.classes.includes("plain");
  const onlyWords = c.children.every((n) => n.kind === "words" || ELEMENTS[n.name]?.isInline);
  if (!onlyWords) return setting.fill(c, { widthPt: widthPt - 6, isTable: true });
  const style = {
    size: halfPoints(setting.scale.table.size),
    ...(isLoud ? { bold: true } : {}),
    ...(isHead || (c.name === "th" && isReference) ? { color: colour(PALETTE.quiet) } : {}),
  };
  return [new Paragraph({ children: runsOf(c.children, setting.scale, style), spacing: CELL_SPACING })];
}
