/** Draws a flat drawing straight into a page, without the engine's SVG reader. */
import { type Lettering, readFlat } from "../drawing/flat-drawing.js";
import { rounded } from "../drawing/operators.js";
import { drawnWords } from "./draw-runs.js";
import type { EngineDocument, PlacedDrawing } from "./engine.js";

function letter(pdf: EngineDocument, face: string, lettering: Lettering): string | undefined {
  const font = pdf.provideFont(face, lettering.isBold, false);
  const { words, size, before, color } = lettering;
  if (words === "") return "";
  const drawn = drawnWords(font, words);
  if (drawn === undefined) return undefined;
  pdf.page.fonts[font.id] ??= font.ref();
  const left = before === 0 ? lettering.x : lettering.x - before * font.widthOfString(words, size);
  return `BT\n${color} rg\n/${font.id} ${rounded(size)} Tf\n1 0 0 -1 ${rounded(left)} ${rounded(lettering.y)} Tm [${drawn}] TJ\nET`;
}

/** How much a drawing's height and width may be scaled differently: rounding of their numbers. */
const SKEW = 0.005;

/** Draws `drawing` at its place. False, and nothing drawn, when it is not flat. */
export function drawFlat(pdf: EngineDocument, drawing: PlacedDrawing): boolean {
  const flat = readFlat(drawing.svg);
  if (!flat) return false;
  const [left, top, width, height] = flat.box;
  const scale = drawing._width / width;
  if (Math.abs(drawing._height / height / scale - 1) > SKEW) return false;
  const written: string[] = [];
  for (const part of flat.parts) {
    const operators = typeof part === "string" ? part : letter(pdf, flat.face, part);
    if (operators === undefined) return false;
    written.push(operators);
  }
  // The mitre limit is SVG's.
  pdf.addContent(
    `q\n${[scale, 0, 0, scale, drawing.x - left * scale, drawing.y - top * scale].map(precise).join(" ")} cm\n` +
      `${[left, top, width, height].map(rounded).join(" ")} re W n\n4 M\n${written.join("\n")}\nQ`,
  );
  return true;
}

/** A scale multiplies lengths, so it needs more decimals than they. */
function precise(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}
