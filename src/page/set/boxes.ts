/** Boxes, columns and passages held together. */
import { childElements, type Element } from "../html/markup.js";
import { PALETTE } from "../type/palette.js";
import { SCALES, type Style } from "../type/scale.js";
import type { PdfNode } from "./content.js";
import { addBlock, type Setting, withSpaceAbove } from "./setting.js";
import { addTag } from "./structure.js";

type LineStyle = { dash: { length: number; space: number } } | null;

interface Frame {
  readonly top: number;
  readonly left: number;
  readonly right: number;
  readonly color: string;
  readonly ground: string | undefined;
  readonly dashed: boolean;
}

/** summary: a strong bar at the left on a pale ground. caution: a full frame. clinician-only: a dashed frame. */
const FRAMES: Readonly<Record<string, Frame>> = {
  summary: {
    top: 0,
    left: 3,
    right: 0,
    color: PALETTE.accent,
    ground: PALETTE.tint,
    dashed: false,
  },
  caution: {
    top: 1,
    left: 1,
    right: 1,
    color: PALETTE.ink,
    ground: undefined,
    dashed: false,
  },
  "clinician-only": {
    top: 0.8,
    left: 0.8,
    right: 0.8,
    color: PALETTE.quiet,
    ground: undefined,
    dashed: true,
  },
};

/** `aside`. */
export function setBox(setting: Setting, element: Element): PdfNode {
  const { scale } = setting;
  const frame = FRAMES[element.classes[0] ?? ""] ?? (FRAMES.caution as Frame);
  const block = addBlock(setting, "whole", element, { keptBelow: 0.34, framed: true });
  const pad = scale.body.size * 0.95;
  const inner: Setting = {
    ...setting,
    block,
    breakable: false,
    tag: addTag(setting.tag, "Sect"),
    width: setting.width - 2 * pad - frame.left - frame.right,
    measureEms: setting.measureEms * 1.2,
  };
  const stack = setting.setBlocks(inner, element, { tightness: 0.7 });
  const style = (): LineStyle => (frame.dashed ? { dash: { length: 3, space: 2.4 } } : null);
  block.node = {
    table: {
      body: [[{ stack, ...(frame.ground ? { fillColor: frame.ground } : {}) }]],
      widths: [inner.width],
    },
    layout: {
      hLineWidth: () => frame.top,
      vLineWidth: (i: number) => (i === 0 ? frame.left : frame.right),
      hLineColor: () => frame.color,
      vLineColor: () => frame.color,
      hLineStyle: style,
      vLineStyle: style,
      paddingLeft: () => pad,
      paddingRight: () => pad,
      // A letter set closer has less room above and below, too.
      paddingTop: () => Math.min(pad * 0.75, Math.max(pad * 0.4, scale.gap * 1.5)),
      paddingBottom: () => Math.min(pad * 0.85, Math.max(pad * 0.55, scale.gap * 1.7)),
    },
    margin: [0, 0, 0, 0],
  };
  return block.node;
}

/** Narrowest useful column, in ems: text, and a drawing. */
const NARROWEST = { text: 14, figures: 9 };

/** `div.beside`: children side by side, or one below the other where columns would be too narrow to read. */
export function setBeside(setting: Setting, element: Element): PdfNode {
  const { scale } = setting;
  const children = childElements(element);
  const gutter = scale.body.size * 1.6;
  const room = setting.width - gutter * (children.length - 1);
  const given = element.attributes["data-widths"]?.trim().split(/\s+/).map(Number);
  const fits = given?.length === children.length && given.every((share) => share > 0);
  const sum = fits ? given.reduce((a, b) => a + b, 0) : children.length;
  const widths = children.map((_, i) => (room * (fits ? (given[i] ?? 1) : 1)) / sum);
  const isNarrow = children.some(
    (child, i) =>
      (widths[i] ?? 0) < NARROWEST[child.name === "figure" ? "figures" : "text"] * setting.style.size,
  );
  const block = addBlock(setting, isNarrow ? "open" : "whole", element);
  const inner: Setting = {
    ...setting,
    block,
    breakable: isNarrow ? setting.breakable : false,
  };
  const holder = (child: Element): Element => ({
    ...element,
    children: [child],
  });
  if (isNarrow) {
    const stack = children.flatMap((child, i) =>
      setting
        .setBlocks(inner, holder(child))
        .map((node) => withSpaceAbove(node, i === 0 ? 0 : scale.gap * 1.4)),
    );
    block.node = { stack, margin: [0, 0, 0, 0] };
    return block.node;
  }
  const columns = children.map(
    (child, i): PdfNode => ({
      stack: setting.setBlocks({ ...inner, width: widths[i] ?? room }, holder(child)),
      width: widths[i] ?? room,
    }),
  );
  block.node = { columns, columnGap: gutter, margin: [0, 0, 0, 0] };
  return block.node;
}

/** How much larger the words of a sheet are than those around it. */
const SHEET_GROWTH = 1.25;

/** `section.sheet`: begins a page, in larger type, to be handed over alone. */
export function setSheet(setting: Setting, element: Element): PdfNode {
  // However close the pages before it are set.
  const scale = SCALES[setting.letter.typeSize];
  const by = scale.stackTables ? 1 : SHEET_GROWTH;
  const grown = (style: Style): Style => ({ ...style, size: style.size * by, leading: style.leading * by });
  const body = grown(scale.body);
  const block = addBlock(setting, "sheet", element);
  const inner: Setting = {
    ...setting,
    block,
    style: body,
    scale: { ...scale, body, h2: scale.h1, gap: scale.gap * by * by, drawings: scale.drawings * by },
  };
  block.node = { stack: setting.setBlocks(inner, element, { tightness: 1 }), margin: [0, 0, 0, 0] };
  return block.node;
}

/** Lines between the closing words and the name: a letter is signed electronically. */
const SIGNING_LINES = 0.4;

/** `section.keep` and `section.signature`; in a signature, a little room follows the first paragraph. */
export function setHeld(setting: Setting, element: Element): PdfNode {
  const isSignature = element.classes.includes("signature");
  // In large print a section may fill half a page, and moving it would leave as much blank.
  const kept = setting.scale.stackTables ? { keptBelow: 0.34 } : isSignature ? {} : { mayOpenHole: false };
  const block = addBlock(setting, isSignature ? "signature" : "whole", element, kept);
  const stack = setting.setBlocks({ ...setting, block }, element, {
    tightness: isSignature ? 0 : 1,
  });
  const second = stack[1];
  if (isSignature && second)
    withSpaceAbove(second, Math.min(setting.style.leading * SIGNING_LINES, setting.scale.gap));
  block.node = { stack, margin: [0, 0, 0, 0] };
  return block.node;
}
