/** Tables in fixed columns: aligned while they fit, else one group of labelled lines a row. */
import { childElements, type Element } from "../html/markup.js";
import { columnsOf, indent, type Lines, pad, wrap } from "./lines.js";

type SetCell = (cell: Element, width: number) => Lines;

const GUTTER = 2;
/** A column narrower than this breaks most medical words. */
const NARROWEST = 13;

interface Rows {
  readonly head: readonly Element[];
  readonly rows: readonly Element[];
}

function rowsOf(table: Element): Rows {
  const parts = childElements(table);
  const of = (name: string) => parts.filter((part) => part.name === name).flatMap(childElements);
  return { head: of("thead"), rows: of("tbody") };
}

/** Widths that hold every column, shrinking the widest until they fit; undefined when they cannot. */
function fitWidths(
  cells: readonly (readonly Lines[])[],
  columns: number,
  width: number,
): number[] | undefined {
  const widths = Array.from({ length: columns }, (_, i) =>
    Math.max(1, ...cells.map((row) => Math.max(0, ...(row[i] ?? []).map(columnsOf)))),
  );
  const room = width - GUTTER * (columns - 1);
  for (let total = widths.reduce((a, b) => a + b, 0); total > room; total -= 1) {
    const widest = widths.indexOf(Math.max(...widths));
    if ((widths[widest] ?? 0) <= NARROWEST) return undefined;
    widths[widest] = (widths[widest] ?? 0) - 1;
  }
  return widths;
}

function aligned(rows: Rows, setCell: SetCell, widths: readonly number[]): string[] {
  const line = (row: Element): string[] => {
    const cells = childElements(row);
    const set = cells.map((cell, i) => setCell(cell, widths[i] ?? NARROWEST));
    const height = Math.max(1, ...set.map((lines) => lines.length));
    return Array.from({ length: height }, (_, at) =>
      set
        .map((lines, i) =>
          pad(lines[at] ?? "", widths[i] ?? 0, cells[i]?.classes.includes("number") === true),
        )
        .join(" ".repeat(GUTTER))
        .trimEnd(),
    );
  };
  const head = rows.head.flatMap(line);
  const rule = widths.map((width) => "-".repeat(width)).join(" ".repeat(GUTTER));
  const body = rows.rows.map(line);
  // Rows of several lines are told apart by an empty line.
  const isOpen = body.some((lines) => lines.length > 1);
  const spaced = body.flatMap((lines, i) => (isOpen && i > 0 ? ["", ...lines] : lines));
  return head.length > 0 ? [...head, rule, ...spaced] : spaced;
}

function stacked(rows: Rows, setCell: SetCell, width: number): string[] {
  const labels = rows.head.flatMap(childElements).map((cell) => setCell(cell, width).join(" "));
  return rows.rows.flatMap((row, i) => {
    const lines = childElements(row).flatMap((cell, column) => {
      const text = setCell(cell, width - 4).join(" ");
      const label = labels[column] ? `${labels[column]}: ` : "";
      return column === 0 ? wrap(text, width) : indent(wrap(label + text, width - 4), "      ", "    ");
    });
    return i === 0 ? lines : ["", ...lines];
  });
}

/** Lines of a `table`, its caption first. */
export function tableLines(table: Element, width: number, setCell: SetCell): string[] {
  const rows = rowsOf(table);
  const all = [...rows.head, ...rows.rows];
  const columns = Math.max(0, ...all.map((row) => childElements(row).length));
  const isPlain = all.every((row) =>
    childElements(row).every((cell) => cell.attributes.colspan === undefined),
  );
  const natural = all.map((row) => childElements(row).map((cell) => setCell(cell, width)));
  const widths = isPlain ? fitWidths(natural, columns, width) : undefined;
  const caption = childElements(table).find((part) => part.name === "caption");
  return [
    ...(caption ? [...setCell(caption, width), ""] : []),
    ...(widths ? aligned(rows, setCell, widths) : stacked(rows, setCell, width)),
  ];
}
