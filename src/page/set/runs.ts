/** Words and inline elements -> the engine's runs, each in a typeface that has its characters. */
import type { Problem } from "../../base/problem.js";
import { type Element, type Node, nameOf } from "../html/markup.js";
import { bindWords } from "../type/bound-words.js";
import { cleanWithIsolates, hasHidden, type RunPlace, type SetRun, setRuns } from "../type/characters.js";
import { BODY_FACE, type Cut, facesInUse, naturalLine } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import type { Style } from "../type/scale.js";
import type { PdfInline } from "./content.js";
import { inlineTag, type Tag } from "./structure.js";

interface Voice {
  readonly bold: boolean;
  readonly italics: boolean;
  readonly size?: number;
  readonly link?: string;
  readonly tag?: Tag;
}

function cutOf({ bold, italics }: Voice): Cut {
  if (bold) return italics ? "bolditalics" : "bold";
  return italics ? "italics" : "normal";
}

/** Line height that makes a line in another typeface as tall as the leading, so that lines stay evenly spaced. */
function lineHeightOf(face: string, size: number, leading: number): number {
  return leading / (size * naturalLine(face));
}

export interface WordSetting {
  readonly style: Style;
  readonly smallSize: number;
  readonly tag: Tag | null;
  readonly problems: Problem[];
}

interface Piece extends SetRun {
  readonly isBound: boolean;
}

/** Texts whose typefaces and bound words are remembered; much of a letter is the same in the next. */
const TEXTS_KEPT = 4000;
const known = new Map<string, readonly Piece[]>();

/** `raw` cleaned and cut where the typeface changes or words are bound. What cannot be set is added to `problems`. */
function piecesOf(raw: string, place: RunPlace, problems: Problem[]): readonly Piece[] {
  const key = `${facesInUse().id} ${place.cut} ${raw}`;
  let pieces = known.get(key);
  if (pieces) return pieces;
  const before = problems.length;
  if (hasHidden(raw) && !problems.some((p) => p.id === "hidden-characters" && p.line === place.line)) {
    problems.push({
      severity: "warning",
      id: "hidden-characters",
      message: `invisible characters were left out of ${place.where}`,
      ...(place.line === undefined ? {} : { line: place.line }),
    });
  }
  pieces = setRuns(cleanWithIsolates(raw), place, problems).flatMap((run) =>
    run.whole ? [{ ...run, isBound: false }] : bindWords(run.text).map((piece) => ({ ...run, ...piece })),
  );
  if (known.size >= TEXTS_KEPT) known.clear();
  // A text with problems is looked at again, so that they are told each time.
  if (problems.length === before && !hasHidden(raw)) known.set(key, pieces);
  return pieces;
}

/** Sets the inline children of `element`. White space at both ends is dropped; `br` becomes a line end. */
export function setWords(element: Element, nodes: readonly Node[], setting: WordSetting): PdfInline[] {
  const { problems, tag } = setting;
  const runs: PdfInline[] = [];
  const where = `<${nameOf(element)}>`;

  const addText = (raw: string, voice: Voice) => {
    const pieces = piecesOf(raw, { cut: cutOf(voice), where, line: element.line }, problems);
    if (pieces.length === 0) return;
    const style = {
      ...(voice.bold ? { bold: true } : {}),
      ...(voice.italics ? { italics: true } : {}),
      ...(voice.size ? { fontSize: voice.size } : {}),
      ...(voice.link ? { link: voice.link, color: PALETTE.accent, decoration: "underline" } : {}),
      ...(voice.tag ? { inlineTag: voice.tag } : {}),
    };
    let passage: { reading: string; tag: Tag } | undefined;
    const size = voice.size ?? setting.style.size;
    for (const { text, face, whole, reading, isBound } of pieces) {
      const parent = voice.tag ?? tag;
      if (reading === undefined || !parent) passage = undefined;
      else if (passage?.reading !== reading) {
        passage = { reading, tag: inlineTag(parent, "Span", { actualText: reading.trim() }) };
      }
      runs.push({
        text,
        font: face,
        ...style,
        ...(face === BODY_FACE ? {} : { lineHeight: lineHeightOf(face, size, setting.style.leading) }),
        ...(whole || isBound ? { noWrap: true } : {}),
        ...(isBound ? { isBound: true } : {}),
        ...(passage ? { inlineTag: passage.tag } : {}),
      });
    }
  };

  const walk = (node: Node, voice: Voice) => {
    if (node.kind === "words") return addText(node.text, voice);
    const { name, attributes } = node;
    if (name === "br") {
      runs.push({ text: "\n", font: runs[runs.length - 1]?.font ?? BODY_FACE });
      return;
    }
    let inner = voice;
    if (name === "strong") inner = { ...voice, bold: true };
    if (name === "em") inner = { ...voice, italics: true };
    if (name === "small") inner = { ...voice, size: setting.smallSize };
    if (name === "a" && tag)
      inner = {
        ...voice,
        ...(attributes.href === undefined ? {} : { link: attributes.href }),
        tag: inlineTag(tag, "Link"),
      };
    if (attributes.lang && tag)
      inner = {
        ...inner,
        tag: inlineTag(inner.tag ?? tag, "Span", { lang: attributes.lang }),
      };
    for (const child of node.children) walk(child, inner);
  };

  for (const node of nodes) walk(node, { bold: setting.style.bold === true, italics: false });
  return trimEnds(runs);
}

function trimEnds(runs: PdfInline[]): PdfInline[] {
  const first = runs[0];
  if (first) first.text = first.text.replace(/^ +/, "");
  const last = runs[runs.length - 1];
  if (last) last.text = last.text.replace(/ +$/, "");
  // The space after a line end would indent the next line.
  runs.forEach((run, i) => {
    if (runs[i - 1]?.text === "\n") run.text = run.text.replace(/^ +/, "");
  });
  return runs.filter((run) => run.text !== "");
}
