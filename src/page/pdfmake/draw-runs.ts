/**
 * Draws the words of a line as one piece of text. The engine draws each word by itself, with its own colour, state and
 * position, which takes several times as long and as much room.
 */

import { colorOperands, rounded } from "../drawing/operators.js";
import type { EngineDocument, EngineFont, Inline, Line } from "./engine.js";

/** Words as the font writes them: glyph numbers of the document's subset, with kerning. By document font, then by text. */
const encoded = new WeakMap<EngineFont, Map<string, string>>();

/** `<0001> -12 <0002>`, to stand inside a TJ array; undefined when a sign has to be moved off the baseline. */
export function drawnWords(font: EngineFont, text: string): string | undefined {
  let known = encoded.get(font);
  if (!known) {
    known = new Map();
    encoded.set(font, known);
  }
  const before = known.get(text);
  if (before !== undefined) return before;
  const [glyphs, positions] = font.encode(text);
  let out = "<";
  for (const [i, { xAdvance, advanceWidth, xOffset, yOffset }] of positions.entries()) {
    if (xOffset !== 0 || yOffset !== 0) return undefined;
    out += glyphs[i];
    const kern = advanceWidth - xAdvance;
    if (kern !== 0) out += `> ${rounded(kern)} <`;
  }
  out += ">";
  known.set(text, out);
  return out;
}

function isPlain({ color, link, decoration, background, characterSpacing, fontFeatures }: Inline): boolean {
  const isBare = !link && !decoration && !background && !characterSpacing && !fontFeatures;
  return isBare && colorOperands(color) !== undefined;
}

/** True where two words can stand in one string: same type, and the second where the first ends. */
function continues(before: Inline, next: Inline): boolean {
  return (
    before.font === next.font &&
    before.fontSize === next.fontSize &&
    before.color === next.color &&
    Math.abs(before.x + before.width - next.x) < 0.001
  );
}

/**
 * Draws inlines of `line`, whose left edge and top are at (x, y) in points from the top left of the page. False, and nothing
 * drawn, when they need what only the engine does: links, decorations, signs off the baseline.
 */
export function drawWords(
  pdf: EngineDocument,
  line: Line,
  inlines: readonly Inline[],
  x: number,
  y: number,
): boolean {
  const baseline = rounded(y + line.getAscenderHeight());
  let out = "BT";
  let before: Inline | undefined;
  for (const inline of inlines) {
    if (!isPlain(inline)) return false;
    const words = drawnWords(inline.font, inline.text);
    if (words === undefined) return false;
    if (before && continues(before, inline)) out += words;
    else {
      if (before) out += "] TJ";
      if (inline.color !== before?.color) out += `\n${colorOperands(inline.color)} rg`;
      if (inline.font !== before?.font || inline.fontSize !== before.fontSize) {
        out += `\n/${inline.font.id} ${rounded(inline.fontSize)} Tf`;
        pdf.page.fonts[inline.font.id] ??= inline.font.ref();
      }
      // The page's own axis points down, letters up.
      out += `\n1 0 0 -1 ${rounded(x + inline.x)} ${baseline} Tm [${words}`;
    }
    before = inline;
  }
  if (before) pdf.addContent(`${out}] TJ\nET`);
  return true;
}
