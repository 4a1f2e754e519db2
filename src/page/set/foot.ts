/** The foot of every page and what lies behind the text: draft mark and fold marks. All of it is artifact. */

import { SHEETS } from "../../base/paper.js";
import type { Problem } from "../../base/problem.js";
import { escapeXml } from "../../base/text.js";
import type { Letter } from "../../letter/document.js";
import { bindWords, withBoundSpaces } from "../type/bound-words.js";
import { cleanText, setRuns } from "../type/characters.js";
import { BODY_FACE, countLines, naturalLine, textWidth } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import { MARGIN_MM, mm, WINDOWS } from "../type/paper.js";
import type { Scale } from "../type/scale.js";
import type { Content, PdfInline, PdfNode } from "./content.js";
import { typeOf } from "./setting.js";

/** What stands outside the text: never tagged, and no page break is looked for in it. */
function outsideText(where: string): Content {
  return { tag: null, block: { rule: "open", where, parent: null, breakable: false, detached: true } };
}

const THE_FOOT = "the foot of the page";

export interface Foot {
  /** Height in points from the paper's edge to the text area. */
  readonly height: number;
  readonly node: (page: number, pages: number) => PdfNode;
}

function pageWords(letter: Letter, page: number, pages: number): string {
  return cleanText(letter.pageWords.replaceAll("{page}", String(page)).replaceAll("{pages}", String(pages)));
}

/** Measures the foot, so that the text area leaves room for all its lines, and says how to set it. */
export function setFoot(letter: Letter, scale: Scale, problems: Problem[]): Foot {
  const { size, leading } = scale.foot;
  const width = mm(SHEETS[letter.paper].widthMm - MARGIN_MM.left - MARGIN_MM.right);
  const draft = letter.draftMark === null ? "" : cleanText(letter.draftMark);
  const widestEnd = `${draft} ${pageWords(letter, 888, 888)}`;
  const endWidth = textWidth(widestEnd, size, "bold") + size;
  const startWidth = width - endWidth - size;
  const identifiers = cleanText(letter.identifiers);
  const confidentiality = cleanText(letter.confidentiality);
  const lines =
    countLines(withBoundSpaces(identifiers), startWidth, size, "bold") +
    (confidentiality === "" ? 0 : countLines(withBoundSpaces(confidentiality), width, size));
  const gap = mm(MARGIN_MM.footGap);
  const inlines = (text: string, cut: "normal" | "bold", where: string, seen: Problem[]): PdfInline[] =>
    setRuns(text, { cut, where }, seen).flatMap((run) =>
      (run.whole ? [{ text: run.text, isBound: false }] : bindWords(run.text)).map((piece) => ({
        text: piece.text,
        font: run.face,
        ...(cut === "bold" ? { bold: true } : {}),
        ...(run.face === BODY_FACE ? {} : { lineHeight: leading / (size * naturalLine(run.face)) }),
        ...(run.whole ? { noWrap: true } : {}),
        ...(piece.isBound ? { noWrap: true, isBound: true } : {}),
      })),
    );
  // Each text is checked once here; the foot itself is set anew for every page.
  for (const [text, where] of [
    [identifiers, "the identifiers at the foot"],
    [confidentiality, "the confidentiality line"],
    [widestEnd, "the page number words"],
  ] as const) {
    inlines(text, "normal", where, problems);
  }
  return {
    height: gap + lines * leading + 4 + mm(MARGIN_MM.bottom),
    node: (page, pages) => ({
      margin: [mm(MARGIN_MM.left), gap * 0.55, mm(MARGIN_MM.right), 0],
      stack: [
        {
          canvas: [
            {
              type: "line",
              x1: 0,
              y1: 0,
              x2: width,
              y2: 0,
              lineWidth: 0.4,
              lineColor: PALETTE.hairline,
            },
          ],
        },
        {
          columns: [
            { text: inlines(identifiers, "bold", "", []), width: startWidth, content: outsideText(THE_FOOT) },
            {
              text: [
                ...inlines(draft === "" ? "" : `${draft}\u2002`, "bold", "", []),
                ...inlines(pageWords(letter, page, pages), "normal", "", []),
              ],
              alignment: "right",
              width: endWidth,
              content: outsideText(THE_FOOT),
            },
          ],
          columnGap: size,
          ...typeOf(scale.foot),
          color: PALETTE.ink,
          margin: [0, 3, 0, 0],
        },
        ...(confidentiality === ""
          ? []
          : [
              {
                text: inlines(confidentiality, "normal", "", []),
                content: outsideText(THE_FOOT),
                ...typeOf(scale.foot),
                color: PALETTE.quiet,
              },
            ]),
      ],
    }),
  };
}

/** What lies behind a page's text, as one drawing the size of the sheet; undefined when there is nothing. */
export function setBackdrop(letter: Letter, page: number): PdfNode | undefined {
  const sheet = SHEETS[letter.paper];
  const width = mm(sheet.widthMm);
  const height = mm(sheet.heightMm);
  const parts: string[] = [];
  if (letter.draftMark) {
    const word = cleanText(letter.draftMark);
    const size = Math.min(150, (width * 0.95 * 100) / textWidth(word, 100, "bold"));
    const x = width / 2;
    const y = height / 2;
    parts.push(
      `<text x="${x.toFixed(1)}" y="${(y + size * 0.36).toFixed(1)}" text-anchor="middle" font-family="Noto Sans" font-weight="bold" ` +
        `font-size="${size.toFixed(1)}" fill="${PALETTE.draft}" transform="rotate(-52 ${x.toFixed(1)} ${y.toFixed(1)})">${escapeXml(word)}</text>`,
    );
  }
  if (letter.foldMarks && page === 1 && letter.addressWindow !== "none") {
    for (const fold of WINDOWS[letter.addressWindow].foldsMm) {
      const at = mm(fold).toFixed(2);
      parts.push(
        `<line x1="${mm(4).toFixed(2)}" y1="${at}" x2="${mm(8).toFixed(2)}" y2="${at}" stroke="${PALETTE.hairline}" stroke-width="0.6"/>`,
      );
    }
  }
  if (letter.windowOutline && page === 1 && letter.addressWindow !== "none") {
    const { leftMm, topMm, widthMm, heightMm } = WINDOWS[letter.addressWindow];
    const [x, y, w, h] = [leftMm, topMm, widthMm, heightMm].map((edge) => mm(edge).toFixed(2));
    parts.push(
      `<rect x="${x}" y="${y}" width="${w}" height="${h}" fill="none" stroke="${PALETTE.hairline}" stroke-width="0.6"/>`,
    );
  }
  if (parts.length === 0) return undefined;
  const box = `width="${width.toFixed(2)}" height="${height.toFixed(2)}" viewBox="0 0 ${width.toFixed(2)} ${height.toFixed(2)}"`;
  return {
    svg: `<svg xmlns="http://www.w3.org/2000/svg" ${box}>${parts.join("")}</svg>`,
    content: outsideText("the backdrop of the page"),
    // Set in the flow, it would fill its page, and the engine would hold the next for begun and its table headings for drawn.
    absolutePosition: { x: 0, y: 0 },
  };
}
