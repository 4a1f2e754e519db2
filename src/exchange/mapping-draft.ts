/** The header and cells of a table -> a mapping file to check and finish: what each column seems to be, and what it holds. */
import { openYaml } from "../base/yaml-source.js";
import type { Knowledge } from "../knowledge/schema.js";
import { AMOUNT_WORDS } from "../visit/findings-map.js";
import { VISIT_KEYS } from "../visit/keys.js";
import { readKey } from "../visit/read-key.js";
import { visitWords } from "../visit/visit-words.js";
import { type Vocabulary, vocabulary } from "../visit/vocabulary.js";
import { isJson } from "./schema-place.js";
import { isoDate } from "./table-detect.js";
import { openTable } from "./table-open.js";
import { unitsOf } from "./table-units.js";
import type { Sheet } from "./table-workbook.js";
import { inline, remark } from "./yaml-line.js";

/** What clinics call the columns, by the place a mapping names. */
const COLUMNS: Readonly<Record<string, readonly string[]>> = {
  "visit.id": ["visit number", "visit no.", "visit id", "case number", "encounter"],
  "visit.date": ["date", "day", "visit date", "date of visit", "seen on", "examined on"],
  "visit.seen_by": ["seen by", "clinician", "examiner"],
  "visit.reason": ["reason", "complaint", "reason for visit"],
  "patient.id": [
    "patient number",
    "patient no.",
    "patient id",
    "patient",
    "record number",
    "hospital number",
  ],
  "patient.name.title": ["title"],
  "patient.name.given": ["given name", "first name", "forename"],
  "patient.name.family": ["family name", "surname", "last name"],
  "patient.born": ["born", "date of birth", "birth date", "birthday", "dob"],
  "patient.sex": ["sex", "gender"],
  "patient.phototype": ["phototype", "skin type"],
  "patient.address": ["address"],
  "send_to[0].name": ["letter to", "doctor", "general practitioner", "gp", "referrer"],
  "send_to[0].address": ["practice", "address of the doctor"],
  "history.duration_weeks": ["duration weeks", "weeks", "duration"],
  "history.symptoms.itch": ["itch", "pruritus"],
  "history.symptoms.pain": ["pain"],
  "history.symptoms.burning": ["burning"],
  "history.medicines": ["medicines", "medication", "drugs"],
  "history.allergies": ["allergies"],
  "history.past": ["past history", "disorders"],
  "history.family": ["family history"],
  "history.notes": ["notes", "remarks", "comment"],
  site: ["region", "site", "location"],
  "site.patch.length_mm": ["patch length mm", "length mm", "length"],
  "site.patch.width_mm": ["patch width mm", "width mm", "width"],
};
/** Distinct cells of a column that are shown or turned into words. */
export const MOST_VALUES = 8;
/** Rows that are looked at. */
export const MOST_ROWS = 500;

/** The text of a mapping file for a table, or why there is none. */
export function mappingDraft(
  table: Uint8Array | Sheet,
  name: string,
  knowledge: Knowledge,
): { text: string } | { fault: string } {
  const opened = openTable(table, {}, []);
  if ("fault" in opened) return { fault: opened.fault.message };
  const [header = [], ...rows] = opened.cells;
  const columns = header.map((cell) => cell.trim());
  if (columns.every((column) => column === "")) return { fault: "the first row names no columns" };
  const places = placesOf(columns, knowledge);
  const lines = columns.flatMap((column, i) => {
    if (column === "") return [];
    const cells = distinct(rows.slice(0, MOST_ROWS).map((row) => (row[i] ?? "").trim()));
    return columnLines(column, places.get(column), cells, knowledge);
  });
  const unfilled = VISIT_KEYS.filter(
    ({ path, needed }) =>
      needed && /^(?:visit|patient)\./u.test(path) && ![...places.values()].includes(path),
  );
  return {
    text: [
      ...remark(
        0,
        `How the columns of ${name} become visits. Every line is a guess: check each, and place the rest.`,
      ),
      ...remark(0, "Places are those of the visit file; site. speaks of the site that the row is about."),
      "format: 1",
      "columns:",
      ...lines,
      "constants:",
      "  visit.status: draft",
      ...unfilled.flatMap(({ path, says }) => remark(2, `${path}: needed, and no column fills it (${says})`)),
      'empty: [n/a, "-"]',
      "",
    ].join("\n"),
  };
}

/** The place that each column seems to be, each place once. */
function placesOf(columns: readonly string[], knowledge: Knowledge): Map<string, string> {
  const byColumn = vocabulary(
    "a column",
    Object.entries(COLUMNS).map(([id, [term = id, ...also]]) => ({ id, term, also })),
  );
  const { findings } = visitWords(knowledge);
  const ofRow = columns.some((column) => byColumn.find(column) === "site");
  const places = new Map<string, string>();
  for (const column of columns) {
    const finding = findingOf(column, findings);
    const found =
      byColumn.find(column) ??
      byColumn.find(withoutUnit(column)) ??
      (finding === undefined
        ? undefined
        : `site.findings.${finding}${/\bcount/iu.test(column) ? ".count" : ""}`);
    if (found === undefined || [...places.values()].includes(found)) continue;
    places.set(column, ofRow ? found : found.replace(/^site\./u, "sites[whole scalp]."));
  }
  return places;
}

/** `Duration (months)` and `length cm` are called by their first words. */
const withoutUnit = (column: string): string => column.replace(/[\s(]+(?:days|months|years|cm|in)\)?$/iu, "");

/** The unit that a column names, where it is not the file's own. */
function unitIn(column: string, place: string): string | undefined {
  const [, ...others] = unitsOf(place);
  return others.find((unit) => column.split(/[^\p{L}\d]+/u).some((word) => word.toLowerCase() === unit));
}

/** The term of a finding that a column is called by, with or without a remark in brackets. */
function findingOf(column: string, findings: Vocabulary): string | undefined {
  const bare = column.replace(/\s*\(.*\)$/u, "");
  const id = findings.find(bare);
  return id === undefined ? undefined : findings.terms.get(id);
}

function columnLines(
  column: string,
  place: string | undefined,
  cells: readonly string[],
  knowledge: Knowledge,
): string[] {
  const shown = cells.slice(0, MOST_VALUES).map(inline).join(", ");
  if (place === undefined) return remark(2, `${inline(column)}: not placed; holds ${shown || "nothing"}`);
  const values = new Map<string, string>();
  const open: string[] = [];
  for (const cell of cells.slice(0, MOST_VALUES)) {
    const meant = meaningAt(place, cell, knowledge);
    if (meant === undefined) open.push(cell);
    else if (meant !== cell) values.set(cell, meant);
  }
  const unit = unitIn(column, place);
  const more = {
    ...(unit === undefined ? {} : { unit }),
    ...(values.size > 0 ? { values: Object.fromEntries(values) } : {}),
  };
  const to = Object.keys(more).length > 0 ? inline({ to: place, ...more }) : inline(place);
  return [
    `  ${inline(column)}: ${to}`,
    ...(open.length > 0
      ? remark(4, `give these a meaning under values: ${open.map(inline).join(", ")}`)
      : []),
  ];
}

/** What a cell says at its place: itself, another word, or undefined where it says nothing known. */
export function meaningAt(place: string, cell: string, knowledge: Knowledge): string | undefined {
  if (place.endsWith(".count")) return /^\d+$/u.test(cell) ? cell : undefined;
  if (place.includes(".findings.")) {
    const word = AMOUNT_WORDS.find(cell);
    return word === undefined ? undefined : cell;
  }
  const path = place
    .replace(/^site$/u, "site.site")
    .replace(/^site\./u, "sites[0].")
    .replace(/^(sites|pull_test)\[[^\]]*\]/u, "$1[0]")
    .split(/\.|(?=\[)/u)
    .map((step) => (step.startsWith("[") ? Number(step.slice(1, -1)) : step));
  const { problem } = readKey(
    knowledge,
    path,
    isoDate(cell, "day-month-year").replace(/^(\d+),(\d+)$/u, "$1.$2"),
  );
  return problem ? problem.suggestion : cell;
}

/** Different cells of a column; those that the draft calls empty say nothing. */
export const distinct = (cells: readonly string[]): string[] => [
  ...new Set(cells.filter((cell) => !/^(?:|-|n\/a)$/iu.test(cell))),
];

/** How the remarks of a draft begin; each may go on in further lines. */
const REMARK =
  /^# (?:(?<named>.+?): (?:not placed; holds|needed, and no column)|give these a meaning under values: (?<cells>.*))/u;

/** A drafted mapping without its remarks on columns and keys that have a place by now, and on cells that have a meaning. */
export function withoutOldRemarks(mapping: string): string {
  const written = openYaml(mapping, "mapping", { asWritten: true }).source?.value;
  if (!isJson(written) || !isJson(written.columns)) return mapping;
  const { columns, constants, ignore } = written;
  const settled = new Set([
    ...Object.keys(columns).map(inline),
    ...(Array.isArray(ignore) ? ignore.map((column) => inline(column)) : []),
    ...Object.values(columns).map((to) => (isJson(to) ? to.to : to)),
    ...Object.keys(isJson(constants) ? constants : {}),
  ]);
  const meant = new Set(
    Object.values(columns).flatMap((to) => (isJson(to) && isJson(to.values) ? Object.keys(to.values) : [])),
  );
  const isOld = (remark: string): boolean => {
    const { named, cells } = REMARK.exec(remark)?.groups ?? {};
    if (named !== undefined) return settled.has(named);
    const open = cells === undefined ? [] : openYaml(`[${cells}]`, "", { asWritten: true }).source?.value;
    return Array.isArray(open) && open.length > 0 && open.every((cell) => meant.has(String(cell)));
  };
  const blocks = mapping.split("\n").reduce<string[][]>((all, text) => {
    const goesOn = /^ +# /u.test(text) && !REMARK.test(text.trim()) && /^ +# /u.test(all.at(-1)?.[0] ?? "");
    if (goesOn) all.at(-1)?.push(text);
    else all.push([text]);
    return all;
  }, []);
  const remarkOf = (block: readonly string[]) =>
    block.map((text, i) => (i === 0 ? text.trim() : text.trim().replace(/^# /u, ""))).join(" ");
  // Where a line was written anew, its remark stands behind it.
  const withoutTail = (text: string) => {
    const at = text.indexOf(" # give these a meaning");
    return at > 0 && isOld(text.slice(at + 1)) ? text.slice(0, at) : text;
  };
  const kept = blocks.filter((block) => !isOld(remarkOf(block))).flat();
  return kept.map(withoutTail).join("\n");
}
