/** Words and inline elements -> the engine's runs, each in a typeface that has its characters. */
import type { Problem } from "../base/problem.js";
import { bindWords } from "./bound-words.js";
import { cleanText, hasHidden, setRuns } from "./characters.js";
import { BODY_FACE, type Cut, naturalLine } from "./fonts.js";
import { type Element, type Node, nameOf } from "./markup.js";
import type { PdfInline } from "./page-content.js";
import { PALETTE } from "./palette.js";
import type { Style } from "./scale.js";
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

/** Sets the inline children of `element`. White space at both ends is dropped; `br` becomes a line end. */
export function setWords(element: Element, nodes: readonly Node[], setting: WordSetting): PdfInline[] {
  const { problems, tag } = setting;
  const runs: PdfInline[] = [];
  const where = `<${nameOf(element)}>`;

  const addText = (raw: string, voice: Voice) => {
    if (hasHidden(raw) && !problems.some((p) => p.id === "hidden-characters" && p.line === element.line)) {
      problems.push({
        severity: "warning",
        id: "hidden-characters",
        message: `invisible characters were left out of ${where} (line ${element.line} of the letter's HTML)`,
        line: element.line,
      });
    }
    const text = cleanText(raw);
    if (text === "") return;
    const style = {
      ...(voice.bold ? { bold: true } : {}),
      ...(voice.italics ? { italics: true } : {}),
      ...(voice.size ? { fontSize: voice.size } : {}),
      ...(voice.link ? { link: voice.link, color: PALETTE.accent, decoration: "underline" } : {}),
      ...(voice.tag ? { inlineTag: voice.tag } : {}),
    };
    const place = { cut: cutOf(voice), where, line: element.line };
    let passage: { reading: string; tag: Tag } | undefined;
    for (const run of setRuns(text, place, problems)) {
      const parent = voice.tag ?? tag;
      if (run.reading === undefined || !parent) passage = undefined;
      else if (passage?.reading !== run.reading) {
        passage = {
          reading: run.reading,
          tag: inlineTag(parent, "Span", { actualText: run.reading.trim() }),
        };
      }
      const size = voice.size ?? setting.style.size;
      const pieces = run.whole ? [{ text: run.text, isBound: false }] : bindWords(run.text);
      for (const piece of pieces) {
        runs.push({
          text: piece.text,
          font: run.face,
          ...style,
          ...(run.face === BODY_FACE
            ? {}
            : { lineHeight: lineHeightOf(run.face, size, setting.style.leading) }),
          ...(run.whole ? { noWrap: true } : {}),
          ...(piece.isBound ? { noWrap: true, isBound: true } : {}),
          ...(passage ? { inlineTag: passage.tag } : {}),
        });
      }
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
    if (name === "a" && tag) inner = { ...voice, link: attributes.href, tag: inlineTag(tag, "Link") };
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
