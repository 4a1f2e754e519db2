/** The kinds of single values: texts, numbers, dates, words, ids. Each says what it wants, also as JSON Schema. */
import { isDay } from "./calendar.js";
import { type Expectation, foundInWords } from "./expectation.js";
import {
  addTrouble,
  anyType,
  Fault,
  type Json,
  type Leaf,
  leaf,
  orNull,
  type Read,
  rawValue,
  readOne,
} from "./leaf.js";
import { badCharacter, showsNothing } from "./safe-text.js";
import type { Vocabulary } from "./vocabulary.js";
import { anyCase, wordPattern } from "./word-pattern.js";

/** Free text; line breaks stay only with `lines`. */
export function text(most: number, options: { lines?: boolean } = {}): Leaf<string> {
  return leaf({ kind: "text", most }, () => TEXT_JSON(most), readText(most, options.lines ?? false));
}

const TEXT_JSON = (most: number): Json => anyType(["string", "number", "boolean"], { maxLength: most });

function readText(most: number, lines: boolean): Read<string> {
  return (written) => {
    const clean = written
      .normalize("NFC")
      .replace(/\r\n?/gu, "\n")
      .replace(/\t/gu, " ")
      .replace(/[ ]+$/gmu, "")
      .trim();
    const bad = badCharacter(clean);
    if (bad)
      return new Fault("bad-character", `an invisible character (${bad}) in the text`, {
        expected: "the same text, typed afresh at that place",
      });
    if (showsNothing(clean)) return new Fault("bad-character", "nothing in the text can be seen");
    if (clean.length > most) return new Fault("text-too-long", `${clean.length} letters are too many`);
    return lines ? clean : clean.replace(/\s*\n\s*/gu, " ");
  };
}

/** A list of short texts; one text alone counts as a list of one, a block of lines as a list of lines. */
export function textList(most = 200, items = 60): Leaf<string[]> {
  const want: Expectation = { kind: "text", most };
  const read = readText(most, false);
  const one = TEXT_JSON(most);
  return rawValue(() => ({
    anyOf: [
      { type: "array", items: orNull(one), maxItems: items },
      TEXT_JSON(most * items),
      { type: "null" },
    ],
  }))
    .transform((raw, ctx): string[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      const list = Array.isArray(raw)
        ? raw
        : typeof raw === "object"
          ? undefined
          : String(raw).split(/\r?\n/u);
      if (!list) {
        const message = `${foundInWords(raw)} where a list of texts belongs`;
        addTrouble(ctx, { problem: "wrong-shape", message, want: { kind: "list" } });
        return undefined;
      }
      if (list.length > items) {
        addTrouble(ctx, { problem: "text-too-long", message: `more than ${items} items`, want });
        return undefined;
      }
      return list.flatMap((item, i) => readOne(want, read, item, ctx, Array.isArray(raw) ? [i] : []) ?? []);
    })
    .optional();
}

const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d{1,3})?$/iu;

/** A number between `least` and `most`, both included. */
export function number(
  least: number,
  most: number,
  options: { whole?: boolean; unit?: string } = {},
): Leaf<number> {
  const whole = options.whole ?? false;
  const want: Expectation = { kind: "number", whole, least, most, unit: options.unit ?? "" };
  const json = () => ({
    anyOf: [
      { type: whole ? "integer" : "number", minimum: least, maximum: most },
      { type: "string", pattern: "^\\s*[+-]?[.]?[0-9][0-9.]*([eE][+-]?[0-9]+)?\\s*$" },
    ],
  });
  return leaf(want, json, (written) => {
    const trimmed = written.trim();
    if (!NUMBER.test(trimmed)) return new Fault("not-a-number", `${foundInWords(written)} is not a number`);
    const value = Number(trimmed) + 0;
    if (whole && !Number.isInteger(value)) return new Fault("not-whole", `${trimmed} is not a whole number`);
    if (value < least || value > most)
      return new Fault("out-of-range", `${trimmed} is outside ${least} to ${most}`);
    return value;
  });
}

/** A whole number of things. */
export const count = (most: number, unit = ""): Leaf<number> => number(0, most, { whole: true, unit });

/** An ISO date of a day that exists. */
export function date(): Leaf<string> {
  const json = () => ({ type: "string", pattern: "^\\s*[0-9]{4}-[0-9]{2}-[0-9]{2}\\s*$" });
  return leaf({ kind: "date" }, json, (written) => {
    const day = written.trim();
    if (!/^\d{4}-\d{2}-\d{2}$/u.test(day))
      return new Fault("not-a-date", `${foundInWords(written)} is not a date`);
    return isDay(day) ? day : new Fault("no-such-day", `there is no ${day}`);
  });
}

const MOMENT =
  /^(\d{4}-\d{2}-\d{2})[T ]([01]\d|2[0-3]):[0-5]\d(?::[0-5]\d(?:\.\d{1,3})?)?(?:Z|[+-](?:0\d|1[0-4]):[0-5]\d)?$/u;

/** An ISO date with a time of day; the offset from UTC may be left out. */
export function moment(): Leaf<string> {
  const json = () => ({
    type: "string",
    pattern:
      "^\\s*[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}(:[0-9]{2}([.][0-9]{1,3})?)?(Z|[+-][0-9]{2}:[0-9]{2})?\\s*$",
  });
  return leaf({ kind: "moment" }, json, (written) => {
    const moment = written.trim();
    const day = MOMENT.exec(moment)?.[1];
    if (day === undefined)
      return new Fault("not-a-date", `${foundInWords(written)} is not a day with a time`);
    return isDay(day) ? moment.replace(" ", "T") : new Fault("no-such-day", `there is no ${day}`);
  });
}

/** One of a place's words, in any accepted spelling. */
export function word<T extends string>(words: Vocabulary<T>): Leaf<T> {
  return leaf({ kind: "word", words }, () => wordJson(words), readWord(words));
}

export function wordJson(words: Vocabulary): Json {
  return {
    anyOf: [{ enum: [...words.terms.values()] }, { type: "string", pattern: wordPattern(words.spellings) }],
  };
}

function readWord<T extends string>(words: Vocabulary<T>): Read<T> {
  return (written) =>
    words.find(written) ?? new Fault("unknown-word", `${foundInWords(written)} is not ${words.what}`);
}

/** A list of words; one word alone counts as a list of one. */
export function wordList<T extends string>(words: Vocabulary<T>): Leaf<T[]> {
  const want: Expectation = { kind: "word", words };
  return rawValue(() => ({
    anyOf: [{ type: "array", items: orNull(wordJson(words)) }, wordJson(words), { type: "null" }],
  }))
    .transform((raw, ctx): T[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      const list = Array.isArray(raw) ? raw : [raw];
      return list.flatMap(
        (item, i) => readOne(want, readWord(words), item, ctx, Array.isArray(raw) ? [i] : []) ?? [],
      );
    })
    .optional();
}

const YES_NO: ReadonlyMap<string, boolean> = new Map([
  ["true", true],
  ["yes", true],
  ["on", true],
  ["false", false],
  ["no", false],
  ["off", false],
]);

/** true or false; yes, no, on and off are understood. */
export function yesNo(): Leaf<boolean> {
  return leaf({ kind: "yes-no" }, YES_NO_JSON, readYesNo);
}

export const YES_NO_JSON = (): Json => ({
  anyOf: [{ type: "boolean" }, { type: "string", pattern: wordPattern([...YES_NO.keys()], "exact") }],
});

export const readYesNo: Read<boolean> = (written) =>
  YES_NO.get(written.trim().toLowerCase()) ??
  new Fault("not-yes-or-no", `${foundInWords(written)} is neither true nor false`);

/**
 * What a pattern without letter classes can say of an id: no ASCII punctuation but dots, hyphens and underscores, no symbols.
 * Python's validators know no letter classes; the reader does, and is the stricter one.
 */
const ID_JSON =
  "^(?!.*\\.\\.)(?!.*\\.\\s*$)\\s*[^\\x00-/:-@\\[-`{-\\xbf\\u2000-\\u2bff\\u3000-\\u303f\\ufff0-\\uffff][^\\x00-\\x1f!-,/:-@\\[-\\^`{-\\xbf\\u2000-\\u2bff\\u3000-\\u303f\\ufff0-\\uffff]*\\s*$";

/** A short name that is safe in a file name; `most` letters. */
export function fileSafeId(most = 64): Leaf<string> {
  const pattern = "^(?!.*\\.\\.)(?!.*\\.\\s*$)\\s*[\\p{L}\\p{N}][\\p{L}\\p{M}\\p{N}._ -]*\\s*$";
  const json = () => anyType(["string", "number"], { pattern: ID_JSON, maxLength: most });
  return leaf({ kind: "id" }, json, (written) => {
    const id = written.normalize("NFC").trim();
    const bad = badCharacter(id);
    if (bad) return new Fault("bad-id", `an invisible character (${bad}) in the id`);
    if (!new RegExp(pattern, "u").test(id)) {
      const odd = [...id].find((ch, i) => !(i === 0 ? /[\p{L}\p{N}]/u : /[\p{L}\p{M}\p{N}._ -]/u).test(ch));
      return new Fault("bad-id", `"${odd ?? id}" cannot stand in an id, which also names the files`);
    }
    if (id.length > most) return new Fault("bad-id", `${id.length} letters are too many for an id`);
    if (/^(?:con|prn|aux|nul|com\d|lpt\d)(?:\.|$)/iu.test(id))
      return new Fault("bad-id", `${foundInWords(id)} cannot name a file on every computer`);
    return id;
  });
}

/** A relative path that stays inside the folder of the file. */
export function pathInside(): Leaf<string> {
  const json = () => ({
    type: "string",
    maxLength: 200,
    pattern: "^(?![/~])(?!.*\\\\)(?!.*:)(?!(.*/)?\\s*\\.\\.\\s*(/|$)).*$",
  });
  return leaf({ kind: "path" }, json, (written) => {
    const path = written.normalize("NFC").trim();
    const bad = badCharacter(path);
    if (bad) return new Fault("bad-path", `an invisible character (${bad}) in the path`);
    if (path.length > 200) return new Fault("bad-path", `${path.length} letters are too many for a path`);
    if (/^[a-z]+:\/\//iu.test(path))
      return new Fault("bad-path", "an address of the web where a file belongs");
    if (/^[/~]|^[a-z]:/iu.test(path)) return new Fault("bad-path", "a path from the root of the disk");
    if (path.includes("\\"))
      return new Fault("bad-path", "a backslash in the path", { suggestion: path.replaceAll("\\", "/") });
    if (path.includes(":")) return new Fault("bad-path", "a colon in the path");
    if (path.split("/").some((part) => part.trim() === ".."))
      return new Fault("bad-path", "the path leads out of the visit's folder");
    return path;
  });
}

const EMAIL = '^\\s*[^\\s@,;:<>()"\\\\]+@[^\\s@,;:<>()"\\\\]+\\s*$';

/** An e-mail address as it is typed, without a name beside it. */
export function email(): Leaf<string> {
  const json = () => ({ type: "string", pattern: EMAIL, maxLength: 200 });
  return leaf({ kind: "text", most: 200 }, json, (written) => {
    const address = written.trim();
    const bad = badCharacter(address);
    if (bad) return new Fault("bad-email", `an invisible character (${bad}) in the e-mail address`);
    return address.length <= 200 && new RegExp(EMAIL, "u").test(address)
      ? address
      : new Fault("bad-email", `"${address.slice(0, 60)}" is not an e-mail address`);
  });
}

/** Subtags for undetermined, several, no and uncoded languages. */
const NO_LANGUAGE: readonly string[] = ["und", "mul", "zxx", "mis"];

/** A language tag (BCP 47) of a language that people write in. */
export function language(): Leaf<string> {
  const json = () => ({
    type: "string",
    pattern: `^\\s*(?!(?:${NO_LANGUAGE.map((tag) => anyCase(tag)).join("|")})(?:[-_]|\\s*$))[A-Za-z]{2,3}([-_][A-Za-z0-9]{2,8})*\\s*$`,
  });
  return leaf({ kind: "language" }, json, (written) => {
    const tag = written.trim();
    const fault = new Fault("bad-language", `${foundInWords(written)} is not a language tag`);
    if (!/^[a-z]{2,3}(?:[-_][a-z0-9]{2,8})*$/iu.test(tag)) return fault;
    if (NO_LANGUAGE.includes(tag.toLowerCase().split(/[-_]/u)[0] ?? "")) return fault;
    try {
      return Intl.getCanonicalLocales(tag.replaceAll("_", "-"))[0] ?? fault;
    } catch {
      return fault;
    }
  });
}
