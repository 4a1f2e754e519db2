/**
 * Mixed-direction text -> pieces in the order they stand on the line, left to right. Each passage written from right to left is
 * isolated: it never pulls a number or sign of the sentence around it to its other side.
 */
import { createRequire } from "node:module";
import type { Bidi } from "bidi-js";

export interface Piece {
  readonly text: string;
  /** True for a right-to-left passage: it is kept on one line, since the engine breaks lines from left to right. */
  readonly whole: boolean;
  /** For passages of several pieces, such as words round a number: the passage as it is read. */
  readonly reading?: string;
}

const SCRIPTS =
  "\\p{Script=Arabic}\\p{Script=Hebrew}\\p{Script=Syriac}\\p{Script=Thaana}\\p{Script=Nko}\\p{Script=Adlam}";
const RIGHT_TO_LEFT = new RegExp(`[${SCRIPTS}]`, "u");
/** From the first right-to-left letter to the last before a letter of another direction. */
const PASSAGE = new RegExp(`[${SCRIPTS}](?:[^\\p{L}\\n\\u2066-\\u2069]*[${SCRIPTS}\\p{M}])*`, "gu");
/** What a letter puts round a text of its own direction: an isolate and its end. */
const ISOLATE = /[\u2066-\u2068]([^\u2066-\u2069]*)\u2069/gu;

/** True when any letter is written from right to left. */
export function hasRightToLeft(text: string): boolean {
  return RIGHT_TO_LEFT.test(text);
}

export interface Passage {
  readonly text: string;
  readonly isolated: boolean;
}

/** `text` cut where isolates begin and end; without any, each right-to-left passage is one. No marks are left. */
export function isolates(text: string): Passage[] {
  const passages: Passage[] = [];
  const add = (part: string, isolated: boolean) => {
    if (part === "") return;
    if (!isolated) {
      let from = 0;
      for (const match of part.matchAll(PASSAGE)) {
        if (match.index > from) passages.push({ text: part.slice(from, match.index), isolated: false });
        passages.push({ text: match[0], isolated: true });
        from = match.index + match[0].length;
      }
      if (from < part.length) passages.push({ text: part.slice(from), isolated: false });
    } else passages.push({ text: part, isolated: true });
  };
  let from = 0;
  for (const match of text.matchAll(ISOLATE)) {
    const inner = match[1] ?? "";
    add(unmarked(text.slice(from, match.index)), false);
    // One that reads from left to right is cut like any other text.
    add(inner, startsRight(inner));
    from = match.index + match[0].length;
  }
  add(unmarked(text.slice(from)), false);
  return passages;
}

function unmarked(text: string): string {
  return text.replace(/[\u2066-\u2069]/g, "");
}

/** Whether the first letter is written from right to left. */
function startsRight(text: string): boolean {
  return RIGHT_TO_LEFT.test(/\p{L}/u.exec(text)?.[0] ?? "");
}

/** Longest right-to-left passage on one line, and how much of a longer one goes on each. */
const LONGEST = 60;
const ON_A_LINE = 40;

let bidi: Bidi | undefined;

/** Parts of a passage for lines of their own, cut at spaces; undefined when a word is longer than a line. */
function linesOf(passage: string): string[] | undefined {
  if (passage.length <= LONGEST) return [passage];
  const lines: string[] = [];
  for (const word of passage.split(" ")) {
    const last = lines[lines.length - 1];
    if (word.length > ON_A_LINE) return undefined;
    if (last !== undefined && last.length + 1 + word.length <= ON_A_LINE)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/**
 * Pieces in visual order for text in a left-to-right paragraph, or undefined when a word is longer than a line can hold. Inside
 * a piece the characters stay in reading order: the typeface's shaping turns right-to-left words round by itself, and no-break
 * spaces keep a passage together so that its words are turned round with it. A long passage is set line by line.
 */
export function rightToLeftRuns(text: string): Piece[] | undefined {
  const pieces: Piece[] = [];
  for (const passage of isolates(text)) {
    if (!passage.isolated) {
      pieces.push({ text: passage.text, whole: false });
      continue;
    }
    const lines = linesOf(passage.text);
    if (!lines) return undefined;
    for (const [i, line] of lines.entries()) {
      if (lines.length > 1 && (i > 0 || pieces.length > 0)) pieces.push({ text: "\n", whole: false });
      pieces.push(...visualOrder(line));
    }
    if (lines.length > 1) pieces.push({ text: "\n", whole: false });
  }
  return pieces;
}

function visualOrder(passage: string): Piece[] {
  bidi ??= (createRequire(import.meta.url)("bidi-js") as () => Bidi)();
  const { levels } = bidi.getEmbeddingLevels(passage, "rtl");
  const pieces: { text: string; level: number }[] = [];
  for (let i = 0; i < passage.length; i += 1) {
    const level = levels[i] ?? 1;
    const last = pieces[pieces.length - 1];
    if (last && last.level === level) last.text += passage[i];
    else pieces.push({ text: passage[i] ?? "", level });
  }
  // Rule L2: from the highest level down, turn round every run of pieces at that level or above.
  const highest = Math.max(...pieces.map((piece) => piece.level));
  for (let level = highest; level >= 1; level -= 1) {
    for (let from = 0; from < pieces.length; from += 1) {
      if ((pieces[from]?.level ?? 0) < level) continue;
      let to = from;
      while ((pieces[to + 1]?.level ?? 0) >= level) to += 1;
      pieces.splice(from, to - from + 1, ...pieces.slice(from, to + 1).reverse());
      from = to;
    }
  }
  return pieces.map((piece) => ({
    text: piece.text.replaceAll(" ", "\u00a0"),
    whole: true,
    ...(pieces.length > 1 ? { reading: passage } : {}),
  }));
}
