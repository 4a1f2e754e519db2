/** Words and inline elements -> the engine's runs, each in a typeface that has its characters. */
import type { Problem } from "../base/problem.js";
import { cleanText, hasHidden, hasRightToLeft, splitByFace } from "./characters.js";
import type { Cut } from "./fonts.js";
import { type Element, type Node, nameOf } from "./markup.js";
import type { PdfInline } from "./page-content.js";
import { PALETTE } from "./palette.js";
import { pageError } from "./problems.js";
import { rightToLeftRuns } from "./right-to-left.js";
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

export interface WordSetting {
  readonly bold: boolean;
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
    const pieces = hasRightToLeft(text) ? rightToLeftRuns(text) : [{ text, whole: false }];
    if (pieces === undefined) {
      problems.push(
        pageError("right-to-left", `${where} holds a right-to-left passage that cannot be set faithfully`, {
          line: element.line,
        }),
      );
      return;
    }
    for (const piece of pieces) {
      for (const run of splitByFace(piece.text, cutOf(voice), where, problems, element.line)) {
        runs.push({ text: run.text, font: run.face, ...style, ...(piece.whole ? { noWrap: true } : {}) });
      }
    }
  };

  const walk = (node: Node, voice: Voice) => {
    if (node.kind === "words") return addText(node.text, voice);
    const { name, attributes } = node;
    if (name === "br") {
      runs.push({ text: "\n", font: runs[runs.length - 1]?.font ?? "Noto Sans" });
      return;
    }
    let inner = voice;
    if (name === "strong") inner = { ...voice, bold: true };
    if (name === "em") inner = { ...voice, italics: true };
    if (name === "small") inner = { ...voice, size: setting.smallSize };
    if (name === "a" && tag) inner = { ...voice, link: attributes.href, tag: inlineTag(tag, "Link") };
    if (attributes.lang && tag)
      inner = { ...inner, tag: inlineTag(inner.tag ?? tag, "Span", { lang: attributes.lang }) };
    for (const child of node.children) walk(child, inner);
  };

  for (const node of nodes) walk(node, { bold: setting.bold, italics: false });
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
