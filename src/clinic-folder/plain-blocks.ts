/**
 * Blocks of a visit file as nearly all are written -> their keys, without a parser of YAML: a look at thousands of files waits for
 * little else. Whatever is not quite plain is left to the parser.
 */

type Plain = string | PlainMap | readonly Plain[];
export interface PlainMap {
  readonly [key: string]: Plain;
}

/** What begins with a letter or figure and holds no sign that YAML could read another meaning into. */
const WORD = String.raw`[\p{L}\p{N}](?:[^\p{C}\p{Zl}\p{Zp}:#]*[^\p{C}\p{Z}:#])?`;
/** The same within brackets. */
const ITEM = String.raw`[\p{L}\p{N}](?:[^\p{C}\p{Zl}\p{Zp}:#,[\]{}]*[^\p{C}\p{Z}:#,[\]{}])?`;
const KEY = "[a-z][a-z_]*";
const LINE = new RegExp(`^( +)(${KEY}):(?: +(${WORD}|\\{.*\\}|\\[.*\\]))? *(?: #.*)?$`, "u");
const TOP = new RegExp(`^(${KEY}):(?: +(\\{.*\\}))? *(?: #.*)?$`, "u");
const LISTED = new RegExp(`^( +)- +(${WORD}) *(?: #.*)?$`, "u");
const PAIRS = new RegExp(`^\\{ *${KEY}: +${ITEM} *(?:, *${KEY}: +${ITEM} *)*\\}$`, "u");
const PAIR = new RegExp(`(${KEY}): +(${ITEM})`, "gu");
const ITEMS = new RegExp(`^\\[ *${ITEM} *(?:, *${ITEM} *)*\\]$`, "u");
const NOTHING = /^ *(?:#.*)?$/u;

/** The maps that the lines hold, two deep, or undefined where only the parser can tell. */
export function plainBlocks(lines: readonly string[]): PlainMap | undefined {
  const found: Record<string, Plain> = {};
  let block: Record<string, Plain> = found;
  let last = "";
  let indent = 0;
  /** The key without a value that deeper lines belong to. */
  let open = "";
  let inner: Record<string, Plain> | string[] | undefined;
  let innerIndent = 0;
  const put = (to: Record<string, Plain>, key: string, written: string | undefined): boolean => {
    const value = written === undefined ? "" : meantBy(written);
    if (value === undefined || Object.hasOwn(to, key)) return false;
    to[key] = value;
    return true;
  };
  for (const line of lines) {
    if (NOTHING.test(line)) continue;
    const [, top, flow] = TOP.exec(line) ?? [];
    if (top !== undefined) {
      if (!put(found, top, flow)) return undefined;
      block = {};
      last = top;
      // After a map in braces nothing may follow that is deeper.
      indent = flow === undefined ? -1 : 0;
      open = "";
      continue;
    }
    if (indent === 0) return undefined;
    const [, entryDeep, entry] = LISTED.exec(line) ?? [];
    const [, deep = entryDeep ?? "", key = "", written] = LINE.exec(line) ?? [];
    if (deep === "") return undefined;
    if (indent < 0) {
      indent = deep.length;
      found[last] = block;
    }
    if (deep.length === indent && entry === undefined) {
      if (!put(block, key, written)) return undefined;
      open = written === undefined ? key : "";
      inner = undefined;
      continue;
    }
    if (deep.length <= indent || open === "") return undefined;
    if (!inner) {
      inner = entry === undefined ? {} : [];
      innerIndent = deep.length;
      block[open] = inner;
    }
    if (deep.length !== innerIndent) return undefined;
    if (Array.isArray(inner)) {
      if (entry === undefined) return undefined;
      inner.push(entry);
    } else if (entry !== undefined || written === undefined || !put(inner, key, written)) return undefined;
  }
  return found;
}

function meantBy(written: string): Plain | undefined {
  if (written.startsWith("[")) return ITEMS.test(written) ? splitItems(written) : undefined;
  if (!written.startsWith("{")) return written;
  if (!PAIRS.test(written)) return undefined;
  const pairs = [...written.matchAll(PAIR)].map(([, key = "", value = ""]) => [key, value] as const);
  const map: PlainMap = Object.fromEntries(pairs);
  return Object.keys(map).length === pairs.length ? map : undefined;
}

const splitItems = (written: string): string[] =>
  written
    .slice(1, -1)
    .split(",")
    .map((item) => item.replace(/^ +| +$/gu, ""));
