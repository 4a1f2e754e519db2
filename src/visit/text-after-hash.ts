/** `reason: Patch #2 is larger`: after a space, # begins a remark, so that YAML would drop the rest of the text in silence. */
import { Lexer } from "yaml";

export interface LostText {
  /** From 1, at the #. */
  readonly line: number;
  readonly column: number;
  /** What YAML would leave out. */
  readonly lost: string;
  /** The value in quotes, where it stands in one line and the # belongs to a word. */
  readonly meant?: string;
  /** True where the line reads as meant only with the # taken for text: in brackets, or in a text of several lines. */
  readonly within: boolean;
}

/** Tokens of the lexer that stand for no text; the last comes before each plain value. */
const MARKS: ReadonlySet<string> = new Set(["\u0002", "\u0018", "\u001f"]);
const PLAIN = "\u001f";

/**
 * Text that follows a plain value after ` #`. A remark is taken for one where two spaces stand before the # and one
 * after it, or where it has a line of its own.
 */
export function textAfterHash(text: string): LostText[] {
  const found: LostText[] = [];
  const tokens = [...new Lexer().lex(text)];
  let offset = 0;
  let line = 1;
  let lineStart = 0;
  let brackets = 0;
  /** The last plain value, and what stands between it and here. */
  let plain: string | undefined;
  let between = "";
  for (const [i, token] of tokens.entries()) {
    if (MARKS.has(token)) continue;
    if (token === "[" || token === "{") brackets++;
    if (token === "]" || token === "}") brackets = Math.max(0, brackets - 1);
    const isPlain = tokens[i - 1] === PLAIN && !/^[|>]/u.test(tokens[i - 2] ?? "") && token !== ":";
    if (token.startsWith("#") && plain !== undefined && isText(token, between)) {
      const several = plain.includes("\n") || between.includes("\n") || goesOn(tokens, i);
      const lost = brackets > 0 ? (token.match(/^[^,\]}]*/u)?.[0] ?? token).trimEnd() : token.trimEnd();
      const whole = `${plain}${between}${lost}`;
      found.push({
        line,
        column: offset - lineStart + 1,
        lost,
        ...(several || /^#\s/u.test(lost) ? {} : { meant: inQuotes(whole) }),
        within: brackets > 0 || several,
      });
    }
    if (isPlain && !isKey(tokens, i)) {
      plain = token;
      between = "";
    } else if (/^\s+$/u.test(token)) between += token;
    else plain = undefined;
    const newline = token.lastIndexOf("\n");
    if (newline !== -1) {
      line += token.split("\n").length - 1;
      lineStart = offset + newline + 1;
    }
    offset += token.length;
  }
  return found;
}

/** On the line of a value, all but a remark set off by space; on a line of its own, only a number such as `#2`. */
function isText(token: string, between: string): boolean {
  if (between.includes("\n")) return /^#\d/u.test(token) && /\n[ ]+$/u.test(between);
  return !(/^[ \t]*(?: {2}|\t)$/u.test(between) && /^#+(?:\s|$)/u.test(token));
}

/** True when the plain value goes on in the next line. */
function goesOn(tokens: readonly string[], at: number): boolean {
  const [newline, space, mark] = tokens.slice(at + 1, at + 4);
  const next = at + 4;
  return newline === "\n" && /^ +$/u.test(space ?? "") && mark === PLAIN && !isKey(tokens, next);
}

/** True when a colon follows. */
function isKey(tokens: readonly string[], at: number): boolean {
  const rest = tokens.slice(at + 1, at + 3).filter((token) => !/^[ \t]+$/u.test(token));
  return rest[0] === ":";
}

const inQuotes = (text: string): string =>
  text.includes("'") ? `"${text.replaceAll(/["\\]/gu, "\\$&")}"` : `'${text}'`;
