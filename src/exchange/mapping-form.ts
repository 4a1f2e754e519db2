/** A table and its mapping -> what a form shows of each column: its first cells, where it goes, in which unit, and what its cells mean. */
import { openYaml } from "../base/yaml-source.js";
import type { Knowledge } from "../knowledge/schema.js";
import { distinct, MOST_ROWS, MOST_VALUES, meaningAt } from "./mapping-draft.js";
import type { ColumnForm, MappingForm } from "./mapping-shown.js";
import { isJson } from "./schema-place.js";
import { foldCell, readMapping } from "./table-mapping.js";
import { openTable } from "./table-open.js";
import { mappedPlaces, wordsAt } from "./table-places.js";
import { unitsOf } from "./table-units.js";
import type { Sheet } from "./table-workbook.js";

/** Undefined where the mapping is no YAML map or the table cannot be read. */
export function mappingForm(
  table: Uint8Array | Sheet,
  mapping: string,
  knowledge: Knowledge,
): MappingForm | undefined {
  const written = openYaml(mapping, "mapping", { asWritten: true }).source?.value;
  if (!isJson(written)) return undefined;
  const columns = isJson(written.columns) ? written.columns : {};
  const opened = openTable(
    table,
    readMapping(mapping, "mapping", knowledge).value?.read ?? {},
    Object.keys(columns),
  );
  if ("fault" in opened) return undefined;
  const [header = [], ...rows] = opened.cells;
  const ignored = Array.isArray(written.ignore) ? written.ignore.map(String) : [];
  const said = (list: unknown) =>
    new Set(Array.isArray(list) ? list.map((cell) => foldCell(String(cell))) : []);
  const empty = said(written.empty);
  const names = distinct(header.map((cell) => cell.trim()));
  return {
    columns: names.map((column) => {
      const at = header.findIndex((cell) => cell.trim() === column);
      const cells = distinct(rows.slice(0, MOST_ROWS).map((row) => (row[at] ?? "").trim())).filter(
        (cell) => !empty.has(foldCell(cell)),
      );
      return columnForm(column, columns[column], cells, ignored.includes(column), knowledge);
    }),
    ignored,
    constants: texts(written.constants),
    read: texts(written.read),
    places: mappedPlaces(knowledge),
  };
}

function columnForm(
  column: string,
  to: unknown,
  cells: readonly string[],
  isIgnored: boolean,
  knowledge: Knowledge,
): ColumnForm {
  const place = typeof to === "string" ? to : isJson(to) && typeof to.to === "string" ? to.to : "";
  const values = isJson(to) ? texts(to.values) : {};
  const given = new Map(Object.entries(values).map(([cell, word]) => [foldCell(cell), word]));
  const shown = place === "" ? [] : cells.slice(0, MOST_VALUES);
  const asked = shown.flatMap((cell) => {
    const own = given.get(foldCell(cell));
    const isOpen = meaningAt(place, own ?? cell, knowledge) !== (own ?? cell);
    return own !== undefined || isOpen ? [{ cell, means: own ?? "", isOpen }] : [];
  });
  return {
    column,
    first: cells.slice(0, 3),
    place,
    isIgnored,
    unit: isJson(to) && typeof to.unit === "string" ? to.unit : "",
    units: unitsOf(place),
    words: place === "" ? [] : wordsAt(place, knowledge),
    cells: asked,
  };
}

/** Those entries of a map that are texts. */
function texts(map: unknown): Record<string, string> {
  return Object.fromEntries(
    Object.entries(isJson(map) ? map : {}).filter(
      (entry): entry is [string, string] => typeof entry[1] === "string",
    ),
  );
}
