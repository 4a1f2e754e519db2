/** Text as typed -> runs that name the typeface each is set in. A character no typeface has is reported, never left blank. */
import type { Problem } from "../base/problem.js";
import { BODY_FACE, type Cut, faceFor } from "./fonts.js";
import { pageError } from "./problems.js";

export interface Run {
  readonly text: string;
  readonly face: string;
}

/** Controls, direction overrides and marks, soft hyphens and other format characters, but not the joiners that shape words. */
const HIDDEN = /(?![\t\n\u200c\u200d])[\p{Cc}\p{Cf}]/gu;

const RIGHT_TO_LEFT =
  /[\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}\p{Script=Adlam}]/u;

/** Canonical composed form without hidden characters. */
export function cleanText(text: string): string {
  return text.normalize("NFC").replace(/\t/g, " ").replace(HIDDEN, "");
}

/** True when `text` holds characters that `cleanText` leaves out. */
export function hasHidden(text: string): boolean {
  HIDDEN.lastIndex = 0;
  return HIDDEN.test(text);
}

/** True when any letter is written from right to left. */
export function hasRightToLeft(text: string): boolean {
  return RIGHT_TO_LEFT.test(text);
}

const graphemes = new Intl.Segmenter("und", { granularity: "grapheme" });

function describe(grapheme: string): string {
  const codes = [...grapheme].map(
    (c) => `U+${(c.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}`,
  );
  return `"${grapheme}" (${codes.join(" ")})`;
}

/**
 * Splits cleaned text into runs by typeface; usually one. `where` names the element for the message.
 * A grapheme no typeface has adds a `no-glyph` problem and is left out.
 */
export function splitByFace(
  text: string,
  cut: Cut,
  where: string,
  problems: Problem[],
  line?: number,
): Run[] {
  const whole = faceFor(text, cut);
  if (whole === BODY_FACE) return [{ text, face: whole }];
  const runs: Run[] = [];
  const missing = new Set<string>();
  for (const { segment } of graphemes.segment(text)) {
    const face = faceFor(segment, cut);
    if (face === undefined) {
      missing.add(segment);
      continue;
    }
    const last = runs[runs.length - 1];
    // A space joins the run before it, so that a name in one script is not cut at its spaces.
    if (last && (last.face === face || segment === " "))
      runs[runs.length - 1] = { text: last.text + segment, face: last.face };
    else runs.push({ text: segment, face });
  }
  for (const grapheme of missing) {
    problems.push(
      pageError(
        "no-glyph",
        `no typeface at hand has the character ${describe(grapheme)}, found in ${where}`,
        {
          found: grapheme,
          ...(line === undefined ? {} : { line }),
        },
      ),
    );
  }
  return runs;
}
