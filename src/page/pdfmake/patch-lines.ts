/** How words become lines: taken from a paragraph in one go, and none left alone on the last. */
import type { Engine, Inline, Line } from "./engine.js";
import { forgetMeasured } from "./patch-runs.js";

/** A last line has at least two words and so many characters. */
const LAST_LINE = 9;
/** Share of the column that words kept together for it may take. */
const MOST_KEPT = 0.45;

/** Words that were kept with the next one, each with the space it had: words are the same in every pass over the pages. */
const kept = new WeakMap<Inline, number>();

function setFree(words: readonly Inline[]): void {
  for (const word of words) {
    const space = kept.get(word);
    if (space === undefined) continue;
    word.noNewLine = false;
    word.trailingCut = space;
    kept.delete(word);
  }
}

/** Keeps the last words of a paragraph together, so that none stands alone on the last line. */
export function keepLastWords(words: readonly Inline[], width: number): void {
  // Else each pass would take one word more along.
  setFree(words);
  const last = words.length - 1;
  let [from, length, characters, total] = [
    last,
    words[last]?.width ?? 0,
    words[last]?.text.trim().length ?? 0,
    0,
  ];
  for (const word of words) total += word.width;
  if (total <= width) return;
  for (let count = 1; from > 0; from -= 1) {
    const before = words[from - 1];
    if (!before || before.lineEnd) break;
    const isSameWord = before.noNewLine || before.text.trim() === "";
    if (!isSameWord && count >= 2 && characters >= LAST_LINE) break;
    if (!isSameWord) count += 1;
    characters += before.text.trim().length;
    length += before.width;
  }
  if (length > width * MOST_KEPT) return;
  for (let i = from; i < last; i += 1) {
    const word = words[i];
    if (!word || word.noNewLine) continue;
    kept.set(word, word.trailingCut);
    word.noNewLine = true;
    // The engine would take the space after each word of the chain for one that a line's end swallows.
    word.trailingCut = 0;
  }
}

/** Whether `words[at]`, with the words it stays together with, still fits on `line`; as the engine reckons. */
function fits(line: Line, words: readonly Inline[], at: number): boolean {
  if (line.inlines.length === 0) return true;
  if (line.newLineForced) return false;
  let width = 0;
  let cut = 0;
  for (let i = at; i < words.length; i += 1) {
    const word = words[i] as Inline;
    width += word.width;
    cut += word.trailingCut;
    if (!word.noNewLine) break;
  }
  return line.inlineWidths + width - line.leadingCut - cut <= line.maxWidth;
}

/** Fills `line` with the first of `words`; how many, or undefined when one of them has to be cut in two. */
function fill(line: Line, words: readonly Inline[]): number | undefined {
  let taken = 0;
  let isForced = false;
  while (taken < words.length && (isForced || fits(line, words, taken))) {
    const word = words[taken] as Inline;
    if (!word.noWrap && word.text.length > 1 && word.width > line.getAvailableWidth()) return undefined;
    line.addInline(word);
    isForced = word.noNewLine;
    taken += 1;
  }
  return taken;
}

/** Makes the engine take each line's words at once; it copies all that are left for every word it takes. */
export function patchLines({ LayoutBuilder, Line }: Engine): void {
  const { buildNextLine } = LayoutBuilder.prototype;
  LayoutBuilder.prototype.buildNextLine = function (node) {
    const words = node._inlines;
    if (!words || words.length === 0) return null;
    const line = new Line(this.writer.context().availableWidth);
    const taken = fill(line, words);
    if (taken === undefined) {
      forgetMeasured(node);
      return buildNextLine.call(this, node);
    }
    words.splice(0, taken);
    line.lastLineInParagraph = words.length === 0;
    return line;
  };
}
