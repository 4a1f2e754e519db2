/** Problems as the short text that stands in the `.problems.txt` files. */
import type { Problem } from "../../src/base/problem.js";

/** `line:column severity id message`, then what was expected and what to try, then places spoken of. */
export function show(problems: readonly Problem[]): string {
  return problems.map(showOne).join("");
}

function showOne({
  line,
  column,
  severity,
  id,
  message,
  expected,
  suggestion,
  related = [],
}: Problem): string {
  const place = line === undefined ? "file" : `${line}:${column}`;
  const hints = [expected ? `expected ${expected}` : "", suggestion ? `try ${suggestion}` : ""].filter(
    (h) => h !== "",
  );
  return [
    `${place} ${severity} ${id}: ${message}\n`,
    ...hints.map((hint) => `    ${hint}\n`),
    ...related.map((r) => `    ${r.line}:${r.column} ${r.message}\n`),
  ].join("");
}
