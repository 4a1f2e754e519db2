/** Text as typed -> runs that name the typeface each is set in. A character no typeface has is reported, never left blank. */
import { once } from "../../base/once.js";
import type { Problem } from "../../base/problem.js";
import { pageError } from "../problems.js";
import { BODY_FACE, type Cut, faceFor } from "./fonts.js";
import { hasRightToLeft, rightToLeftRuns } from "./right-to-left.js";

export interface Run {
  readonly text: string;
  readonly face: string;
}

/** Controls, direction overrides and marks, soft hyphens and other format characters, but not the joiners that shape words. */
const HIDDEN = /(?![\t\n\u200c\u200d])[\p{Cc}\p{Cf}]/gu;

/** The isolates that a letter puts round texts of another direction are no one's attempt to hide or turn words. */
const HIDDEN_BUT_ISOLATES = /(?!\t|\n|\u200c|\u200d|[\u2066-\u2069])[\p{Cc}\p{Cf}]/gu;

/** Canonical composed form without hidden characters. */
export function cleanText(text: string): string {
  return text.normalize("NFC").replace(/\t/g, " ").replace(HIDDEN, "");
}

/** The same with its isolates, for what tells directions apart. */
export function cleanWithIsolates(text: string): string {
  return text.normalize("NFC").replace(/\t/g, " ").replace(HIDDEN_BUT_ISOLATES, "");
}

/** True when `text` holds characters that `cleanText` leaves out. */
export function hasHidden(text: string): boolean {
  HIDDEN_BUT_ISOLATES.lastIndex = 0;
  return HIDDEN_BUT_ISOLATES.test(text);
}

const graphemes = once(() => new Intl.Segmenter("und", { granularity: "grapheme" }));

function describe(grapheme: string): string {
  const codes = [...grapheme].map(
    (c) => `U+${(c.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}`,
  );
  return `"${grapheme}" (${codes.join(" ")})`;
}

/** Scripts whose signs stand in another order than they are read in, so that the words are told beside them. */
const MOVES =
  /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Armenian}\p{Script=Georgian}\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\p{Script=Ethiopic}\p{Script=Common}\p{Script=Inherited}]/u;

export interface SetRun extends Run {
  /** Not to be broken across lines. */
  readonly whole: boolean;
  /** See Piece. */
  readonly reading?: string;
}

export interface RunPlace {
  readonly cut: Cut;
  /** The element or field, for messages. */
  readonly where: string;
  readonly line?: number;
}

/** Text of which each character is a grapheme of its own, as nearly all is; taking graphemes apart is slow. */
const PLAIN =
  /^(?:(?![\p{M}\p{Regional_Indicator}\p{Emoji_Modifier}])[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{P}\p{N}\p{S}\p{Zs}\n])*$/u;

/** The characters of `text` as a reader counts them. */
export function* graphemesOf(text: string): Iterable<string> {
  if (PLAIN.test(text)) yield* text;
  else for (const { segment } of graphemes().segment(text)) yield segment;
}

/** Splits text of one direction by grapheme; one that no typeface has adds a problem and is left out. */
function splitByFace(text: string, { cut, where, line }: RunPlace, problems: Problem[]): Run[] {
  const whole = faceFor(text, cut);
  if (whole === BODY_FACE) return [{ text, face: whole }];
  const runs: Run[] = [];
  const missing = new Set<string>();
  for (const segment of graphemesOf(text)) {
    const face = faceFor(segment, cut);
    if (face === undefined) {
      missing.add(segment);
      continue;
    }
    const last = runs[runs.length - 1];
    // A space joins the run before it, so that a name in one script is not cut at its spaces.
    if (last && (last.face === face || segment === " ")) {
      runs[runs.length - 1] = { text: last.text + segment, face: last.face };
    } else runs.push({ text: segment, face });
  }
  for (const grapheme of missing) {
    problems.push(
      pageError(
        "no-glyph",
        `no typeface at hand can set the character ${describe(grapheme)}, found in ${where}`,
        {
          found: grapheme,
          ...(line === undefined ? {} : { line }),
        },
      ),
    );
  }
  return runs;
}

/**
 * Runs of cleaned text in the order they stand on the line, each with its typeface; usually one. Characters that no typeface
 * has and right-to-left passages that cannot be set faithfully are added to `problems`.
 */
export function setRuns(text: string, place: RunPlace, problems: Problem[]): SetRun[] {
  if (!hasRightToLeft(text)) {
    return splitByFace(cleanText(text), place, problems).map((run) => ({
      ...run,
      whole: false,
      ...(MOVES.test(run.text) ? { reading: run.text } : {}),
    }));
  }
  const refuse = () =>
    problems.push(
      pageError(
        "right-to-left",
        `${place.where} holds a right-to-left passage that cannot be set faithfully`,
        {
          ...(place.line === undefined ? {} : { line: place.line }),
        },
      ),
    );
  const pieces = rightToLeftRuns(text);
  if (pieces === undefined) {
    refuse();
    return [];
  }
  return pieces.flatMap((piece) => {
    const { whole, reading } = piece;
    const face = whole ? faceFor(piece.text, place.cut) : undefined;
    const split =
      face === undefined ? splitByFace(piece.text, place, problems) : [{ text: piece.text, face }];
    // Shaping a passage in two typefaces would turn each half round by itself.
    if (whole && split.length > 1) refuse();
    return split.map((run) => ({ ...run, whole, ...(reading === undefined ? {} : { reading }) }));
  });
}
