/**
 * A line typed or dictated at a place -> what it records, to be shown before it is kept. One grammar for all: a figure is a
 * count, two figures a range, a word an amount, `no` a finding looked for and not seen. Nothing is guessed: what cannot be read
 * is said, and what can be meant in two ways is asked.
 */
import { NUMBER_WORDS } from "../../base/text.js";
import { foldSpelling } from "../../visit/spelling.js";
import type { FindingEntry } from "../messages.js";
import type { Amount } from "./amounts.js";
import { matches } from "./match.js";

export type Reading =
  | {
      readonly kind: "finding";
      readonly text: string;
      readonly finding: FindingEntry;
      /** What may be meant, one or several; the first stands unless another is chosen. None: the amount is still to be given. */
      readonly amounts: readonly { readonly says: string; readonly amount: Exclude<Amount, null> }[];
      /** True when several may be meant and none is likelier. */
      readonly asks: boolean;
    }
  | {
      readonly kind: "patch";
      readonly text: string;
      /** Millimetres, longer first; two readings when the unit was left out. */
      readonly sizes: readonly { readonly says: string; readonly length: number; readonly width: number }[];
    }
  | { readonly kind: "unread"; readonly text: string };

const AMOUNT_OF: Readonly<Record<string, string>> = {
  single: "single",
  few: "few",
  "a few": "few",
  several: "several",
  many: "many",
  numerous: "many",
  throughout: "throughout",
  everywhere: "throughout",
  seen: "seen",
  present: "seen",
  some: "seen",
  none: "none",
  absent: "none",
  "not seen": "none",
  "looked for and not seen": "none",
};
const AMOUNT_WORDS = Object.keys(AMOUNT_OF).sort((a, b) => b.length - a.length);
const NO = /^(?:no|not any|without|absence of|none of)\s+/iu;
const NUMBER = `(\\d+(?:[.,]\\d+)?|${NUMBER_WORDS.join("|")})`;
const IN_FIELDS = new RegExp(
  `\\s+(?:in|over|across|per)\\s+(?:${NUMBER}\\s+)?fields?(?:\\s+of\\s+view)?$`,
  "iu",
);
const RANGE = new RegExp(`\\b${NUMBER}\\s*(?:-|–|to)\\s*${NUMBER}\\b`, "iu");
const COUNT = new RegExp(`(?:^${NUMBER}\\s+|\\s+${NUMBER}$)`, "iu");
const PATCH = new RegExp(
  `^(?:a\\s+)?patch(?:\\s+of)?\\s+${NUMBER}\\s*(mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?)?\\s*(?:by|x|×)\\s*${NUMBER}\\s*(mm|millimet(?:re|er)s?|cm|centimet(?:re|er)s?)?$`,
  "iu",
);

const numberOf = (text: string | undefined): number => {
  const word = NUMBER_WORDS.indexOf((text ?? "").toLowerCase());
  return word >= 0 ? word : Number((text ?? "").replace(",", "."));
};

/** All that a line says, in its order. Parts are told apart by commas, semicolons, full stops and `and`. */
export function readLine(line: string, findings: readonly FindingEntry[]): Reading[] {
  return joined(
    line
      .split(/[;\n]|[.,](?=\s|$)/u)
      .map((part) => part.trim())
      .filter(Boolean),
    findings,
  ).flatMap((part) => {
    const whole = readPart(part, findings);
    const halves = part.split(/\s+and\s+/iu);
    if (whole.kind !== "unread" || halves.length < 2) return [whole];
    return halves.map((half) => readPart(half, findings));
  });
}

/** `Yellow dots, many.` is one part: an amount alone belongs to the words before it. */
function joined(parts: readonly string[], findings: readonly FindingEntry[]): string[] {
  const found: string[] = [];
  for (const part of parts) {
    const isAmount =
      AMOUNT_OF[part.toLowerCase()] !== undefined || new RegExp(`^${NUMBER}$`, "iu").test(part);
    const last = found.at(-1);
    if (isAmount && last !== undefined && (exactly(last, findings) || !hasAmount(last)))
      found[found.length - 1] = `${last} ${part}`;
    else found.push(part);
  }
  return found;
}

/** One at the end, or a figure; a name may begin like an amount. */
const hasAmount = (text: string): boolean =>
  NO.test(text) || COUNT.test(text) || AMOUNT_WORDS.some((word) => text.toLowerCase().endsWith(` ${word}`));

/** An amount at the end counts before one at the beginning: a name may begin like an amount. */
function endingAmount(text: string): { word: string; rest: string } | undefined {
  const lower = text.toLowerCase();
  const last = AMOUNT_WORDS.find((word) => lower.endsWith(` ${word}`));
  if (last !== undefined)
    return { word: AMOUNT_OF[last] ?? "seen", rest: text.slice(0, -last.length).trim() };
  const first = AMOUNT_WORDS.find((word) => lower.startsWith(`${word} `));
  return first === undefined
    ? undefined
    : { word: AMOUNT_OF[first] ?? "seen", rest: text.slice(first.length).trim() };
}

function readPart(part: string, findings: readonly FindingEntry[]): Reading {
  const patch = PATCH.exec(part);
  if (patch) return readPatch(part, patch);
  const known = (name: string): FindingEntry | undefined => {
    const bare = name.replace(/[:,]$/u, "");
    // A figure that is left over was not understood.
    return exactly(bare, findings) ?? (/\d/u.test(bare) ? undefined : matches(bare, findings)[0]?.entry);
  };
  const named = (
    name: string,
    amounts: readonly { says: string; amount: Exclude<Amount, null> }[],
    asks = false,
  ): Reading => {
    const finding = known(name);
    return finding ? { kind: "finding", text: part, finding, amounts, asks } : { kind: "unread", text: part };
  };
  // A name that itself holds a number, an amount or a word of denial is a name.
  const exact = exactly(part, findings);
  if (exact) return { kind: "finding", text: part, finding: exact, amounts: [], asks: false };
  const last = endingAmount(part);
  const before = last && exactly(last.rest, findings);
  if (last && before) {
    const amounts = [{ says: sayAmount(last.word), amount: last.word }];
    return { kind: "finding", text: part, finding: before, amounts, asks: false };
  }
  if (NO.test(part)) return named(part.replace(NO, ""), [{ says: "not seen", amount: "none" }]);
  const inFields = IN_FIELDS.exec(part);
  const bare = inFields ? part.slice(0, inFields.index).trim() : part;
  const fields = inFields?.[1] ? numberOf(inFields[1]) : 1;
  const range = RANGE.exec(bare);
  if (range) {
    const [low, high] = [numberOf(range[1]), numberOf(range[2])].sort((a, b) => a - b);
    const words = [...new Set([wordOf((low ?? 0) / fields), wordOf((high ?? 0) / fields)])];
    return named(
      bare.replace(RANGE, " ").trim(),
      words.map((word) => ({ says: `${low}–${high} a field: ${word}`, amount: word })),
      words.length > 1,
    );
  }
  const count = COUNT.exec(bare);
  if (count) {
    const figure = numberOf(count[1] ?? count[2]);
    if (!Number.isInteger(figure)) return { kind: "unread", text: part };
    const name = bare.replace(COUNT, " ").trim();
    if (figure === 0) return named(name, [{ says: "not seen", amount: "none" }]);
    const says = `${figure} counted in ${fields === 1 ? "one field" : `${fields} fields`}`;
    return named(name, [{ says, amount: { count: String(figure), fields: String(fields) } }]);
  }
  const ending = endingAmount(bare);
  if (ending) return named(ending.rest, [{ says: sayAmount(ending.word), amount: ending.word }]);
  return named(bare, []);
}

function exactly(text: string, findings: readonly FindingEntry[]): FindingEntry | undefined {
  const wanted = foldSpelling(text);
  return findings.find(({ term, also }) => [term, ...also].some((s) => foldSpelling(s) === wanted));
}

const sayAmount = (word: string): string => (word === "none" ? "not seen" : word);

/** Per field of view: 1, 2-3, 4-9, 10 and more. */
function wordOf(each: number): string {
  return each >= 10 ? "many" : each >= 4 ? "several" : each > 1 ? "few" : "single";
}

function readPatch(text: string, found: RegExpExecArray): Reading {
  const [, one, unitOne, other, unitOther] = found;
  const unit = unitOther ?? unitOne;
  const sizes = [numberOf(one), numberOf(other)].sort((a, b) => b - a);
  const of = (factor: number) => {
    const [length = 0, width = 0] = sizes.map((n) => Math.round(n * factor * 10) / 10);
    return { says: `patch ${length} by ${width} mm`, length, width };
  };
  if (unit === undefined) return { kind: "patch", text, sizes: [of(10), of(1)] };
  return { kind: "patch", text, sizes: [of(/^c/iu.test(unit) ? 10 : 1)] };
}
