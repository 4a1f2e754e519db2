/** Indentation that YAML cannot take: which line is out of step, and how far its neighbours are indented. */

export interface OutOfStep {
  /** Index of the line. */
  readonly index: number;
  readonly indent: number;
  /** The indentation it was probably meant to have. */
  readonly meant: number;
}

const KEY_LINE = /^( *)(?:- )?[\p{L}\p{N}][^:#"'[\]{}]*:(?:\s|$)/u;
/** A key whose value stands in the same line, so that nothing may be indented below it. */
const FULL_LINE = /^ *(?:- )?[\p{L}\p{N}][^:#"'[\]{}]*:\s+[^|>\s#]/u;

/** The line out of step at or after the line that YAML complained of. */
export function outOfStep(lines: readonly string[], at: number): OutOfStep | undefined {
  for (const index of [at, at + 1]) {
    const here = lines[index];
    const before = lineBefore(lines, index);
    if (here === undefined || before === undefined || !KEY_LINE.test(here)) continue;
    const indent = indentOf(here);
    const above = keyIndentOf(before);
    if (FULL_LINE.test(before) && indent > above) return { index, indent, meant: above };
    const open = openIndents(lines, index);
    const first = firstOfItsMap(lines, index);
    if (first && first.indent === above && indent < above && indent > first.parent)
      return { index: first.index, indent: above, meant: indent };
    if (indent < above && !open.includes(indent)) {
      const meant = open.find((step) => step > indent);
      if (meant !== undefined) return { index, indent, meant };
    }
  }
  return undefined;
}

/** The line before, where it is the first below a key: then it, and not the line after it, is out of step. */
function firstOfItsMap(
  lines: readonly string[],
  index: number,
): { index: number; indent: number; parent: number } | undefined {
  const isText = (line: string) => line.trim() !== "" && !/^\s*#/u.test(line);
  const at = lines.slice(0, index).findLastIndex(isText);
  const opener = lines.slice(0, Math.max(0, at)).findLast(isText);
  if (opener === undefined || !/:\s*(?:#.*)?$/u.test(opener)) return undefined;
  return { index: at, indent: indentOf(lines[at] ?? ""), parent: keyIndentOf(opener) };
}

/** The indentation that a run of tabbed lines stands in: that of the line after it, else of the line before. */
export function indentBeside(lines: readonly string[], from: number, to: number): number | undefined {
  const first = lines[from]?.trimStart() ?? "";
  const after = lines.slice(to + 1).find((line) => line.trim() !== "" && !/^\s*#/u.test(line));
  const before = lineBefore(lines, from);
  const beside = [after, before].find(
    (line) => line !== undefined && !/^ *\t/u.test(line) && /^ /u.test(line),
  );
  if (beside === undefined) return undefined;
  const isEntry = /^- /u.test(first);
  if (beside === after && /:\s*$/u.test(lines[to] ?? "")) return Math.max(0, indentOf(beside) - 2);
  if (isEntry === /^ *- /u.test(beside)) return indentOf(beside);
  return isEntry ? Math.max(0, indentOf(beside) - 2) : keyIndentOf(beside);
}

function lineBefore(lines: readonly string[], index: number): string | undefined {
  return lines.slice(0, index).findLast((line) => line.trim() !== "" && !/^\s*#/u.test(line));
}

/** Indentations of the maps that are open above a line, the deepest last. */
function openIndents(lines: readonly string[], index: number): number[] {
  const open: number[] = [];
  let limit = Number.POSITIVE_INFINITY;
  for (const line of lines.slice(0, index).toReversed()) {
    if (!KEY_LINE.test(line)) continue;
    for (const indent of new Set([keyIndentOf(line), indentOf(line)])) {
      if (indent >= limit) continue;
      open.unshift(indent);
      limit = indent;
    }
    if (limit === 0) break;
  }
  return open;
}

const indentOf = (line: string) => line.length - line.trimStart().length;
/** Where the key of a line begins, past the dash of an entry. */
const keyIndentOf = (line: string) => /^ *(?:- )?/u.exec(line)?.[0].length ?? 0;
