/** Tables with hairlines and repeated headings; in large print each row becomes a block of its own. */

import { childElements, type Element, plainText } from "../html/markup.js";
import { pageError } from "../problems.js";
import { PALETTE } from "../type/palette.js";
import { columnWidths, numberParts } from "./column-widths.js";
import type { Block, PdfNode } from "./content.js";
import { addBlock, type Setting, setParagraph, withSpaceAbove } from "./setting.js";
import { addTag, type TagAttributes } from "./structure.js";

interface Grid {
  readonly head: readonly Element[];
  readonly rows: readonly Element[];
  readonly columns: number;
  readonly caption: Element | undefined;
}

function spanOf(cell: Element): number {
  return Number(cell.attributes.colspan ?? 1);
}

function columnsOf(row: Element): number {
  return childElements(row).reduce((sum, cell) => sum + spanOf(cell), 0);
}

function readGrid(setting: Setting, element: Element): Grid | undefined {
  const parts = childElements(element);
  const head = parts.filter((part) => part.name === "thead").flatMap(childElements);
  const rows = parts.filter((part) => part.name === "tbody").flatMap(childElements);
  const all = [...head, ...rows];
  const columns = Math.max(0, ...all.map(columnsOf));
  const ragged = all.find((row) => columnsOf(row) !== columns);
  if (ragged || columns === 0 || rows.length === 0) {
    const line = (ragged ?? element).line;
    setting.problems.push(
      pageError("ragged-table", `a table has rows of different length, or none`, { line }),
    );
    return undefined;
  }
  return {
    head,
    rows,
    columns,
    caption: parts.find((part) => part.name === "caption"),
  };
}

/** Hairlines under each row, a stronger one under the heading row; no upright lines. */
function ruledLayout(headRows: number, gaps: readonly number[], rowPadding: number) {
  return {
    hLineWidth: (i: number) => (i === headRows && headRows > 0 ? 0.9 : i === 0 && headRows > 0 ? 0 : 0.4),
    hLineColor: (i: number) => (i === headRows && headRows > 0 ? PALETTE.accent : PALETTE.hairline),
    vLineWidth: () => 0,
    paddingLeft: (i: number) => (gaps[i - 1] ?? 0) / 2,
    paddingRight: (i: number) => (gaps[i] ?? 0) / 2,
    paddingTop: () => rowPadding * 0.75,
    // A line's own room lies above its letters more than below.
    paddingBottom: () => rowPadding * 1.35,
  };
}

/** Room between each column and the next: little where one heading stands over both. */
function gapsOf(grid: Grid, gap: number): number[] {
  const gaps = Array.from({ length: grid.columns - 1 }, () => gap);
  for (const row of grid.head) {
    let column = 0;
    for (const cell of childElements(row)) {
      for (let i = 1; i < spanOf(cell); i += 1) gaps[column + i - 1] = gap * 0.3;
      column += spanOf(cell);
    }
  }
  return gaps;
}

/** Heading cells over each column, and the table's name in their ids; absent unless cells are joined. */
interface Joined {
  readonly name: string;
  readonly over: string[][];
  count: number;
}

interface Place {
  readonly isHead: boolean;
  readonly column: number;
  readonly joined: Joined | undefined;
  /** Widest part after the decimal sign in each column of numbers. */
  readonly rests: readonly number[];
  /** Ids of heading cells of the row so far. */
  readonly beside: string[];
}

/** The id of a heading cell and the ids of those a cell belongs to. */
function headersOf(
  cell: Element,
  { isHead, column, joined, beside }: Place,
): Pick<TagAttributes, "id" | "headers"> {
  if (!joined) return {};
  const columns = Array.from({ length: spanOf(cell) }, (_, i) => column + i);
  const headers = [...new Set([...columns.flatMap((each) => joined.over[each] ?? []), ...beside])];
  if (cell.name !== "th") return headers.length > 0 ? { headers } : {};
  joined.count += 1;
  const id = `${joined.name}-${joined.count}`;
  if (isHead) for (const each of columns) joined.over[each] = [...(joined.over[each] ?? []), id];
  else beside.push(id);
  return headers.length > 0 ? { id, headers } : { id };
}

function setCell(setting: Setting, cell: Element, place: Place): PdfNode {
  const { isHead } = place;
  const { scale } = setting;
  const isHeader = cell.name === "th";
  const scope = cell.attributes.scope ?? (isHead ? "col" : "row");
  const span = spanOf(cell);
  const tag = addTag(setting.tag, isHeader ? "TH" : "TD", {
    ...(isHeader ? { scope: scope === "row" ? "Row" : "Column" } : {}),
    ...(span > 1 ? { colSpan: span } : {}),
    ...headersOf(cell, place),
  });
  const style = isHead
    ? { ...scale.table, size: scale.table.size * 0.95, bold: true }
    : { ...scale.table, bold: isHeader && !cell.classes.includes("plain") };
  const inner: Setting = { ...setting, tag, style, breakable: false };
  const nodes = setting.setBlocks(inner, cell, {
    wordsType: null,
    ...(isHead ? { color: PALETTE.quiet } : {}),
    ...(cell.classes.includes("number") ? { alignment: "right" } : {}),
  });
  const node: PdfNode = nodes.length === 1 && nodes[0] ? nodes[0] : { stack: nodes };
  if (nodes.length === 0) node.stack = [{ text: "", ...{ fontSize: scale.table.size } }];
  if (span > 1) node.colSpan = span;
  // Decimal signs stand below one another.
  const parts = numberParts(cell, style.size);
  const spare = parts ? (place.rests[place.column] ?? 0) - parts.rest : 0;
  if (spare > 0 && node.margin)
    node.margin = [node.margin[0], node.margin[1], node.margin[2] + spare, node.margin[3]];
  return node;
}

function setRow(
  setting: Setting,
  row: Element,
  isHead: boolean,
  { joined, rests }: Pick<Place, "joined" | "rests">,
): { cells: PdfNode[]; block: Block } {
  const block = addBlock(setting, "row", row, isHead ? { repeats: true, breakable: false } : {});
  const inner: Setting = { ...setting, block, tag: addTag(setting.tag, "TR") };
  const cells: PdfNode[] = [];
  const beside: string[] = [];
  for (const cell of childElements(row)) {
    cells.push(setCell(inner, cell, { isHead, column: cells.length, joined, rests, beside }));
    for (let i = 1; i < spanOf(cell); i += 1) cells.push({ text: "" });
  }
  return { cells, block };
}

function setRuled(setting: Setting, element: Element, grid: Grid): PdfNode {
  const { scale } = setting;
  const table = addTag(setting.tag, "Table");
  const block = addBlock(setting, "open", element);
  const stack: PdfNode[] = [];
  const inner: Setting = { ...setting, block };
  if (grid.caption) {
    const caption = setParagraph({ ...inner, tag: table }, grid.caption, grid.caption.children, {
      style: { ...scale.table, bold: true },
      rule: "heading",
      type: "Caption",
    });
    if (caption) stack.push(caption);
  }
  const isJoined = [...grid.head, ...grid.rows].some((row) =>
    childElements(row).some((cell) => spanOf(cell) > 1),
  );
  const joined: Joined | undefined = isJoined
    ? { name: `t${setting.blocks.length}`, over: [], count: 0 }
    : undefined;
  const rests = Array.from({ length: grid.columns }, (_, column) =>
    Math.max(
      0,
      ...grid.rows.map((row) => {
        const cell = childElements(row)[column];
        return isJoined || !cell ? 0 : (numberParts(cell, scale.table.size)?.rest ?? 0);
      }),
    ),
  );
  const body: PdfNode[][] = [];
  const rowBlocks: Block[] = [];
  const addRows = (rows: readonly Element[], type: string, isHead: boolean) => {
    if (rows.length === 0) return;
    const part = { ...inner, tag: addTag(table, type) };
    for (const row of rows) {
      const { cells, block: rowBlock } = setRow(part, row, isHead, { joined, rests });
      body.push(cells);
      rowBlocks.push(rowBlock);
    }
  };
  addRows(grid.head, "THead", true);
  addRows(grid.rows, "TBody", false);
  // Many columns stand closer.
  const gaps = gapsOf(grid, scale.table.size * (grid.columns > 6 ? 1.1 : 1.6));
  const room = setting.width - gaps.reduce((sum, gap) => sum + gap, 0);
  const node: PdfNode = {
    table: {
      body,
      rowBlocks,
      widths: columnWidths(element, grid.columns, room, scale.table.size),
      headerRows: grid.head.length,
      // A row that has to be split cannot be held together with the headings.
      get keepWithHeaderRows() {
        return rowBlocks[grid.head.length]?.mayBeSplit ? 0 : 1;
      },
      get dontBreakRows() {
        return !rowBlocks[0]?.mayBeSplit;
      },
    },
    layout: ruledLayout(grid.head.length, gaps, Math.min(scale.table.size * 0.3, scale.gap)),
    margin: [0, grid.caption ? scale.gap * 0.5 : 0, 0, 0],
  };
  stack.push(node);
  block.node = { stack, margin: [0, 0, 0, 0] };
  return block.node;
}

/** One block a row: the row's own heading, then each other cell after its column's heading. */
function setStacked(setting: Setting, element: Element, grid: Grid): PdfNode {
  const { scale } = setting;
  const block = addBlock(setting, "open", element);
  const inner: Setting = { ...setting, block };
  const stack: PdfNode[] = [];
  if (grid.caption) {
    const caption = setParagraph(inner, grid.caption, grid.caption.children, {
      style: { ...scale.table, bold: true },
      rule: "heading",
    });
    if (caption) stack.push(caption);
  }
  const list = addTag(setting.tag, "L", { numbering: "None" });
  const headings = grid.head.flatMap(childElements).map((cell) => plainText(cell).trim());
  for (const row of grid.rows) {
    const rowBlock = addBlock(inner, "whole", row);
    const tag = addTag(addTag(list, "LI"), "LBody");
    const lines: PdfNode[] = [];
    childElements(row).forEach((cell, column) => {
      const heading = headings[column] ?? "";
      const label = column > 0 && heading !== "" ? `${heading}: ` : "";
      const style = { ...scale.table, bold: column === 0 };
      const nodes = setting.setBlocks({ ...inner, block: rowBlock, tag, style }, labelled(cell, label), {
        wordsType: "P",
      });
      for (const node of nodes) lines.push(withSpaceAbove(node, lines.length === 0 ? 0 : scale.gap * 0.25));
    });
    rowBlock.node = {
      stack: lines,
      margin: [0, stack.length === 0 ? 0 : scale.gap, 0, 0],
    };
    stack.push(rowBlock.node);
  }
  block.node = { stack, margin: [0, 0, 0, 0] };
  return block.node;
}

function labelled(cell: Element, label: string): Element {
  if (label === "") return cell;
  const strong: Element = {
    kind: "element",
    name: "strong",
    classes: [],
    attributes: {},
    children: [{ kind: "words", text: label }],
    line: cell.line,
  };
  const [first, ...rest] = cell.children;
  if (first?.kind === "element" && first.name === "p") {
    return {
      ...cell,
      children: [{ ...first, children: [strong, ...first.children] }, ...rest],
    };
  }
  return { ...cell, children: [strong, ...cell.children] };
}

/** `table`. */
export function setTable(setting: Setting, element: Element): PdfNode | undefined {
  const grid = readGrid(setting, element);
  if (!grid) return undefined;
  const isStacked = setting.scale.stackTables && grid.head.length === 1 && grid.columns > 2;
  return isStacked ? setStacked(setting, element, grid) : setRuled(setting, element, grid);
}
