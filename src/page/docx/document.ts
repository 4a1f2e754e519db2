/** The document around a letter's blocks: styles, paper, head and foot; and its bytes, free of clock and chance. */

import {
  AlignmentType,
  Document,
  Footer,
  Header,
  type IBaseParagraphStyleOptions,
  LevelFormat,
  LineRuleType,
  Packer,
  PageNumber,
  Paragraph,
  TextRun,
} from "docx";
import JSZip from "jszip";
import { SHEETS } from "../../base/paper.js";
import type { Letter } from "../../letter/document.js";
import { pixelsOf } from "../drawing/pixels.js";
import { childElements, type Element } from "../html/markup.js";
import { cleanText } from "../type/characters.js";
import { PALETTE } from "../type/palette.js";
import { MARGIN_MM, mm } from "../type/paper.js";
import { SCALES, type Style } from "../type/scale.js";
import { blocksOf } from "./blocks.js";
import { BULLETS, colour, halfPoints, NUMBERS, twips } from "./parts.js";
import { drawingSize, standalone } from "./runs.js";
import type { DocxSetting } from "./setting.js";

/** A typeface that every office program has, or has a twin of. */
const FACE = "Arial";
/** Style of the lines at the foot. */
const FOOT = "Foot";
/** Head and foot stand this far from the edge of the sheet. */
const EDGE_MM = 9;

/** The bytes of the document. */
export async function documentBytes(letter: Letter, root: Element): Promise<Uint8Array> {
  const sheet = SHEETS[letter.paper];
  const scale = SCALES[letter.typeSize];
  const widthPt = mm(sheet.widthMm - MARGIN_MM.left - MARGIN_MM.right);
  const setting: DocxSetting = {
    letter,
    scale,
    lists: { count: 0 },
    pixels: await pixelsOfDrawings(root),
    fill: (parent, around) => blocksOf(parent, setting, around),
  };
  const heading = (style: Style): IBaseParagraphStyleOptions => ({
    run: { font: FACE, size: halfPoints(style.size), bold: true, color: colour(PALETTE.accent) },
    paragraph: { spacing: { before: twips(scale.gap * 2), after: twips(scale.gap / 2) }, keepNext: true },
  });
  const made = new Document({
    title: letter.title,
    creator: "",
    lastModifiedBy: "",
    description: "",
    styles: {
      default: {
        document: {
          run: {
            font: FACE,
            size: halfPoints(scale.body.size),
            color: colour(PALETTE.ink),
            language: { value: letter.language },
          },
          // Said in full: without the rule some programs take the line's height for fixed and cut pictures down to it.
          paragraph: { spacing: { after: twips(scale.gap), line: 264, lineRule: LineRuleType.AUTO } },
        },
        heading1: heading(scale.h1),
        heading2: heading(scale.h2),
        heading3: heading(scale.h3),
      },
      paragraphStyles: [
        { id: "Normal", name: "Normal", quickFormat: true },
        // Page numbers take their size from the style of their paragraph in some programs.
        {
          id: FOOT,
          name: FOOT,
          basedOn: "Normal",
          run: { size: halfPoints(scale.foot.size), color: colour(PALETTE.quiet) },
        },
      ],
    },
    numbering: {
      config: [
        listKind(BULLETS, LevelFormat.BULLET, "\u2022"),
        listKind(NUMBERS, LevelFormat.DECIMAL, "%1."),
      ],
    },
    sections: [
      {
        properties: {
          page: {
            size: { width: twips(mm(sheet.widthMm)), height: twips(mm(sheet.heightMm)) },
            margin: {
              top: twips(mm(MARGIN_MM.top)),
              bottom: twips(mm(MARGIN_MM.top)),
              left: twips(mm(MARGIN_MM.left)),
              right: twips(mm(MARGIN_MM.right)),
              header: twips(mm(EDGE_MM)),
              footer: twips(mm(EDGE_MM)),
            },
          },
        },
        ...(letter.draftMark === null ? {} : { headers: { default: draftHead(letter.draftMark) } }),
        footers: { default: foot(letter, scale.foot) },
        children: blocksOf(root, setting, { widthPt }),
      },
    ],
  });
  return withoutClock(await Packer.toBuffer(made), letter.date);
}

/** Every drawing of the letter as pixels, by its source. */
async function pixelsOfDrawings(root: Element): Promise<Map<string, Uint8Array>> {
  const drawings = new Set<string>();
  const walk = (element: Element) => {
    if (element.drawing) drawings.add(element.drawing);
    for (const child of childElements(element)) walk(child);
  };
  walk(root);
  const pixels = new Map<string, Uint8Array>();
  for (const drawing of drawings) {
    const size = drawingSize(drawing);
    const drawn = size && (await pixelsOf(standalone(drawing), size.width));
    if (drawn) pixels.set(drawing, drawn);
  }
  return pixels;
}

function listKind(reference: string, format: (typeof LevelFormat)[keyof typeof LevelFormat], text: string) {
  const levels = [0, 1, 2].map((level) => ({
    level,
    format,
    text,
    alignment: AlignmentType.LEFT,
    style: { paragraph: { indent: { left: twips(14 * (level + 1)), hanging: twips(14) } } },
  }));
  return { reference, levels };
}

function draftHead(mark: string): Header {
  const run = new TextRun({
    text: cleanText(mark),
    bold: true,
    size: halfPoints(14),
    color: colour(PALETTE.ink),
  });
  return new Header({ children: [new Paragraph({ children: [run], alignment: AlignmentType.RIGHT })] });
}

/** Identifiers, the confidentiality line and the page count, as at the foot of the printed letter. */
function foot(letter: Letter, style: Style): Footer {
  const size = halfPoints(style.size);
  const run = (children: (string | (typeof PageNumber)[keyof typeof PageNumber])[], bold = false) =>
    new TextRun({ children, size, bold, color: colour(PALETTE.quiet) });
  const pages = letter.pageWords
    .split(/(\{pages?\})/u)
    .filter((part) => part !== "")
    .map((part) =>
      part === "{page}" ? PageNumber.CURRENT : part === "{pages}" ? PageNumber.TOTAL_PAGES : part,
    );
  const line = (runs: TextRun[]) => new Paragraph({ style: FOOT, children: runs, spacing: { after: 0 } });
  return new Footer({
    children: [
      line([run([cleanText(letter.identifiers)], true)]),
      line([run([cleanText(letter.confidentiality), "  "]), ...pages.map((part) => run([part]))]),
    ],
  });
}

/** Parts that name links, and the names of links there. */
const LINKED = /^word\/(?:_rels\/)?document\.xml(?:\.rels)?$/u;
const LINK_ID = /\b(?:r:id|Id)="(rId[\w-]{8,})"/gu;

/** Names for links in their order, since the library draws them by chance. */
async function linkNames(from: JSZip): Promise<ReadonlyMap<string, string>> {
  const text = (await from.file("word/document.xml")?.async("string")) ?? "";
  const names = new Map<string, string>();
  for (const [, id = ""] of text.matchAll(LINK_ID))
    if (!names.has(id)) names.set(id, `rIdLink${names.size + 1}`);
  return names;
}

/** The same package with the letter's date for every clock, so that equal letters give equal bytes. */
async function withoutClock(bytes: Uint8Array, date: string): Promise<Uint8Array> {
  const from = await JSZip.loadAsync(bytes);
  const links = await linkNames(from);
  const to = new JSZip();
  const day = new Date(`${date}T00:00:00Z`);
  for (const name of Object.keys(from.files).sort()) {
    const file = from.files[name];
    if (!file || file.dir) continue;
    const content =
      name === "docProps/core.xml"
        ? (await file.async("string")).replace(/\d{4}-\d{2}-\d{2}T[\d:.]+Z/gu, `${date}T00:00:00Z`)
        : name === "word/styles.xml"
          ? (await file.async("string")).replace('w:styleId="Normal"', 'w:default="1" w:styleId="Normal"')
          : LINKED.test(name)
            ? (await file.async("string")).replace(LINK_ID, (all, id) => all.replace(id, links.get(id) ?? id))
            : await file.async("uint8array");
    to.file(name, content, { date: day, createFolders: false });
  }
  return to.generateAsync({ type: "uint8array", compression: "DEFLATE", compressionOptions: { level: 9 } });
}
