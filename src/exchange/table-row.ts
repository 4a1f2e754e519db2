/** One row of a table -> the places it fills, its numbers and dates written as a visit file writes them. */
import type { ProblemId } from "../base/problem-table.js";
import type { Region } from "../visit/visit.js";
import type { Vocabulary } from "../visit/vocabulary.js";
import type { Filled } from "./table-build.js";
import { type DecimalSign, isoDate, plainNumber } from "./table-detect.js";
import { type DateOrder, foldCell, type MappedColumn, type TableMapping } from "./table-mapping.js";
import { placeKey, type Step } from "./table-place.js";
import { converted } from "./table-units.js";
import type { RowProblem } from "./table-visit.js";

export interface RowReading {
  readonly header: readonly string[];
  readonly mapping: TableMapping;
  readonly regions: Vocabulary<Region>;
  readonly decimal?: DecimalSign | undefined;
  readonly dates?: DateOrder | undefined;
}

export interface FilledRow {
  readonly row: number;
  /** By place; in the order of the mapping. */
  readonly filled: ReadonlyMap<string, Filled>;
  readonly visitId?: string;
  readonly problems: readonly RowProblem[];
}

/** Reads one row; an empty cell fills nothing. */
export function fillRow(row: number, cells: readonly string[], how: RowReading): FilledRow {
  const { header, mapping } = how;
  const problems: RowProblem[] = [];
  const report = (id: ProblemId, message: string, column?: string, found?: string) => {
    problems.push({
      severity: "error",
      id,
      message,
      row,
      ...(column === undefined ? {} : { tableColumn: column }),
      ...(found === undefined ? {} : { found }),
    });
  };
  if (cells.length > header.length && cells.slice(header.length).some((c) => c !== ""))
    report("row-too-long", `${cells.length} cells under ${header.length} columns`);
  const cellOf = (column: MappedColumn): string => {
    const cell = cells[header.indexOf(column.column)] ?? "";
    if (mapping.empty.includes(foldCell(cell))) return "";
    return column.values[foldCell(cell)] ?? cell;
  };
  const regionColumn = mapping.columns.find((c) => c.ofRow && c.steps.at(-1) === "site");
  const regionCell = regionColumn ? cellOf(regionColumn) : "";
  const region = how.regions.find(regionCell) ?? "";
  if (regionColumn && regionCell !== "" && region === "") {
    const near = how.regions.near(regionCell).join(" or ");
    const hint = near === "" ? "" : `; perhaps ${near}`;
    report(
      "unknown-word",
      `"${regionCell}" is not a region of the scalp${hint}`,
      regionColumn.column,
      regionCell,
    );
  }
  const filled = new Map<string, Filled>();
  for (const column of mapping.columns) {
    const cell = cellOf(column);
    if (cell === "" || column === regionColumn) continue;
    if (column.ofRow && region === "") {
      if (regionCell !== "") continue;
      report(
        "row-without-site",
        `no region in "${regionColumn?.column ?? "site"}" for this finding`,
        column.column,
        cell,
      );
      continue;
    }
    const steps: Step[] = column.steps.map((s) =>
      typeof s === "object" && s.region === "" ? { region } : s,
    );
    const value = visitValue(column, cell, how);
    if (value === undefined) {
      const sign = how.decimal === "comma" ? "comma" : "point";
      report("decimal-mixed", `"${cell}" where this table writes a decimal ${sign}`, column.column, cell);
      continue;
    }
    filled.set(placeKey(steps), { steps, kind: column.kind, value, column: column.column, row });
  }
  if (regionColumn && region !== "" && ![...filled.values()].some((f) => inRegion(f, region)))
    filled.set(placeKey(["sites", { region }, "findings"]), {
      steps: ["sites", { region }, "findings"],
      kind: "map",
      value: {},
      column: regionColumn.column,
      row,
    });
  const visitId = filled.get(placeKey(["visit", "id"]))?.value;
  return { row, filled, problems, ...(visitId === undefined ? {} : { visitId: String(visitId) }) };
}

const inRegion = (f: Filled, region: string) =>
  f.steps.some((s) => typeof s === "object" && s.region === region);

/** Undefined when a number has the wrong decimal sign. */
function visitValue(column: MappedColumn, cell: string, how: RowReading): unknown {
  if (column.kind === "date") return isoDate(cell, how.dates);
  if (column.kind === "number") {
    const plain = plainNumber(cell, how.decimal);
    if (plain === undefined || !/^[+-]?\d+(?:\.\d+)?$/u.test(plain)) return plain;
    return column.factor === undefined ? Number(plain) : converted(Number(plain), column.factor);
  }
  if (column.kind === "texts") return cell.split(/\s*[;|\n]\s*/u).filter((item) => item !== "");
  return cell;
}
