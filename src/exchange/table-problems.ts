/** Problems of the visit file made of a row -> problems of the table, by row and column. */
import type { Problem } from "../base/problem.js";
import { readPath } from "../base/yaml-source.js";
import type { Built, Filled } from "./table-build.js";
import type { TableMapping } from "./table-mapping.js";
import type { RowProblem } from "./table-visit.js";

/** A problem of the visit file as a problem of the table: the column that filled the place, or the row alone. */
export function placed(
  p: Problem,
  row: number,
  built: Built,
  mapping: TableMapping,
  name: string,
): RowProblem {
  const { line: _line, column: _column, length: _length, related: _related, ...rest } = p;
  const origin = p.path === undefined ? undefined : originOf(p.path, built);
  const missing = p.path === undefined || origin ? undefined : unfilledColumn(p, mapping);
  const tableColumn = origin?.column ?? missing;
  return {
    ...rest,
    file: name,
    row: origin?.row ?? row,
    ...(tableColumn === undefined ? {} : { tableColumn }),
  };
}

function originOf(path: string, built: Built): Filled | undefined {
  for (let at = path; at !== ""; at = at.replace(/(?:\.[^.[\]]*|\[\d+\]|^[^.[\]]+)$/u, "")) {
    const origin = built.origins.get(at);
    if (origin) return origin;
    if (!/[.[]/u.test(at)) return undefined;
  }
  return undefined;
}

/** The column that would have filled a key, or a part of it, said to be missing. */
function unfilledColumn(p: Problem, mapping: TableMapping): string | undefined {
  const key = /\((?:[\w.]+\.)?([a-z_]+)\)/u.exec(p.message)?.[1];
  if (key === undefined || p.id !== "missing-key") return undefined;
  const parent = readPath(p.path ?? "").filter((step) => typeof step === "string");
  const wanted = parent.at(-1) === key ? parent : [...parent, key];
  return mapping.columns.find(({ steps }) => {
    const named = steps.filter((step) => typeof step === "string");
    return wanted.every((step, i) => named[i] === step);
  })?.column;
}
