/** What a test tells as a figure: the number, the laboratory's own range, and the side on which it lies outside, from fields or from its words. */
import type { Test } from "./visit.js";

type Measured = Pick<Test, "value" | "result" | "range">;
type Side = "low" | "high";

const NUMBER = String.raw`\d+(?:[.,]\d+)?`;
/** `7 ug/L (ref 30-400)`, `<3`; a titre such as 1:64, a day and a ratio are no figures. */
const LEADING = new RegExp(String.raw`^[<>≤≥~]?\s*(${NUMBER})(?![\d:/.,-])`, "u");
/** `ref 30-400`, `normal 130 to 170`, `(30–400)`. */
const BETWEEN = new RegExp(
  String.raw`(?:[([]|\b(?:ref\w*|range|normal|norm|normbereich|rango)\.?:?)\s*(${NUMBER})\s*(?:-|–|to|bis|a)\s*(${NUMBER})`,
  "iu",
);
/** Words for one end of a range. */
const UP_TO = "<|≤|below|under|less than|up to|at most|max\\.?|unter|bis|weniger als|menos de|hasta|menor de";
const FROM = ">|≥|above|over|more than|from|at least|min\\.?|über|mindestens|más de|desde|mayor de";
/** `(ref <1.8)`, `[>30]`, `ref below 1.8`. */
const ONE_END = new RegExp(
  String.raw`(?:[([]|\b(?:ref\w*|range|normal|norm|normbereich|rango)\.?:?)\s*(?:(${UP_TO})|${FROM})\s*(${NUMBER})`,
  "iu",
);
const SIDE_WORDS: readonly (readonly [Side, RegExp])[] = [
  ["low", /(?<!\b(?:not|nicht|no)\s)(?:\b(?:low|niedrig|erniedrigt|vermindert|baj[ao])\b|↓|\(L\))/iu],
  [
    "high",
    /(?<!\b(?:not|nicht|no)\s)(?:\b(?:high|raised|elevated|erhöht|hoch|alt[ao]|elevad[ao])\b|↑|\(H\))/iu,
  ],
];

const number = (text: string | undefined): number | undefined =>
  text === undefined ? undefined : Number(text.replace(",", "."));

/** The figure of a test: of its field, otherwise the one with which its result begins. */
export function figureOf({ value, result }: Pick<Test, "value" | "result">): number | undefined {
  return value ?? number(LEADING.exec(result?.trim() ?? "")?.[1]);
}

/** The laboratory's own range: of its fields, otherwise as its result tells it. */
export function rangeOf({ range, result }: Pick<Test, "range" | "result">): { low?: number; high?: number } {
  if (range)
    return {
      ...(range.low === undefined ? {} : { low: range.low }),
      ...(range.high === undefined ? {} : { high: range.high }),
    };
  const between = BETWEEN.exec(result ?? "");
  const [low, high] = [number(between?.[1]), number(between?.[2])];
  if (low !== undefined && high !== undefined) return { low, high };
  const end = ONE_END.exec(result ?? "");
  const limit = number(end?.[2]);
  if (limit === undefined) return {};
  return end?.[1] === undefined ? { low: limit } : { high: limit };
}

/** The side on which a test lies outside: by figure and range where both are told, otherwise by its words. */
export function sideOf(test: Measured): Side | undefined {
  const [figure, range] = [figureOf(test), rangeOf(test)];
  if (figure !== undefined && (range.low !== undefined || range.high !== undefined)) {
    if (range.low !== undefined && figure < range.low) return "low";
    return range.high !== undefined && figure > range.high ? "high" : undefined;
  }
  return SIDE_WORDS.find(([, words]) => words.test(test.result ?? ""))?.[0];
}

/** True where it lies outside on that side; with `times`, so many times its upper end at least. */
export function isOutside(test: Measured, side: Side, times?: number): boolean {
  if (sideOf(test) !== side) return false;
  if (times === undefined) return true;
  const [figure, { high }] = [figureOf(test), rangeOf(test)];
  return figure !== undefined && high !== undefined && figure >= times * high;
}
