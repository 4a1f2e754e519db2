/** The top of the first page: letterhead, recipient in the envelope window, date and references beside it. */

import { SHEETS } from "../../base/paper.js";
import { childElements, type Element, type Node, plainText } from "../html/markup.js";
import { addressRows } from "../type/address-rows.js";
import { withBoundSpaces } from "../type/bound-words.js";
import { countLines, textWidth } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import { MARGIN_MM, mm, WINDOWS } from "../type/paper.js";
import { fitWindow } from "../type/window-fit.js";
import { columnWidths } from "./column-widths.js";
import type { PdfNode } from "./content.js";
import { setDrawing } from "./figure.js";
import { addBlock, type Setting, setParagraph, setRule, withSpaceAbove } from "./setting.js";

import { addTag } from "./structure.js";

const isHead = (element: Element) =>
  element.name === "header" || element.name === "address" || element.classes.includes("reference");

/** Splits a letter into the elements that make its head and the rest, in order. */
export function splitHead(root: Element): { head: Element[]; body: Element } {
  const children = childElements(root);
  return {
    head: children.filter(isHead),
    body: { ...root, children: children.filter((child) => !isHead(child)) },
  };
}

/** A compact logo stands at the left of the clinic's name, a wide one above it. */
function besideLogo(logo: PdfNode | undefined, name: PdfNode[], width: number): PdfNode[] {
  const [logoWidth, logoHeight] = logo?.fit ?? [0, 0];
  const nameNode = name[0];
  if (!logo || !nameNode) return logo ? [logo] : name;
  if (logoWidth > logoHeight * 1.7) return [logo, withSpaceAbove(nameNode, 4)];
  const gutter = 10;
  const words = Array.isArray(nameNode.text) ? nameNode.text.map((inline) => inline.text).join("") : "";
  // A name that just misses one line is set a little smaller rather than in two.
  const needed = (width - logoWidth - gutter - 1) / Math.max(1, textWidth(words, 1, "bold"));
  const usual = nameNode.fontSize ?? 0;
  const size = needed < usual && needed > usual * 0.84 ? needed : usual;
  nameNode.fontSize = size;
  const lines = countLines(words, width - logoWidth - gutter, size, "bold");
  const height = lines * size * 1.3;
  withSpaceAbove(nameNode, Math.max(0, (logoHeight - height) / 2));
  withSpaceAbove(logo, Math.max(0, (height - logoHeight) / 2));
  return [
    {
      columns: [
        { stack: [logo], width: logoWidth },
        { stack: [nameNode], width: width - logoWidth - gutter },
      ],
      columnGap: gutter,
      margin: [0, 0, 0, 0],
    },
  ];
}

function setLetterhead(
  setting: Setting,
  header: Element,
  logoHeight: number,
): { left: PdfNode[]; right: PdfNode[] } {
  const { scale } = setting;
  const left: PdfNode[] = [];
  const right: PdfNode[] = [];
  const tag = addTag(setting.tag, "Sect");
  const block = addBlock(setting, "open", header, { breakable: false });
  const inner: Setting = { ...setting, tag, block, breakable: false };
  let logo: PdfNode | undefined;
  let isName = true;
  for (const child of childElements(header)) {
    if (child.name === "p") {
      const node = setParagraph(inner, child, child.children, {
        style: isName ? scale.clinic : scale.letterhead,
        color: isName ? PALETTE.accent : PALETTE.quiet,
      });
      if (node) (isName ? left : right).push(withSpaceAbove(node, !isName && right.length > 0 ? 3 : 0));
      isName = false;
    } else {
      logo = setDrawing(inner, child, {
        width: Math.min(setting.width, mm(60)),
        height: logoHeight,
        grow: 4,
      });
    }
  }
  return { left: besideLogo(logo, left, setting.width), right };
}

/** Date and references as label and value, or as a plain line. */
function setReference(setting: Setting, element: Element): PdfNode | undefined {
  const style = setting.scale.stackTables ? setting.scale.small : setting.scale.letterhead;
  const block = addBlock(setting, "open", element, { breakable: false });
  const inner: Setting = { ...setting, style, block, breakable: false };
  if (element.name === "p") return setParagraph(inner, element, element.children, { style });
  const rows = childElements(element).flatMap(childElements);
  const table = addTag(setting.tag, "Table");
  const body = addTag(table, "TBody");
  const cells = rows.map((row): PdfNode[] => {
    const tr = addTag(body, "TR");
    return childElements(row).map((cell): PdfNode => {
      const isLabel = cell.name === "th";
      const tag = addTag(tr, isLabel ? "TH" : "TD", isLabel ? { scope: "Row" } : {});
      const stack = setting.setBlocks({ ...inner, tag }, cell, {
        wordsType: null,
        ...(isLabel ? { color: PALETTE.quiet } : {}),
      });
      return { stack };
    });
  });
  const columns = Math.max(0, ...cells.map((row) => row.length));
  if (columns === 0) return undefined;
  for (const row of cells) while (row.length < columns) row.push({ text: "" });
  const widest = (name: string, textOf: (cell: Element) => string[]) => {
    const texts = rows
      .flatMap((row) => childElements(row).filter((cell) => cell.name === name))
      .flatMap(textOf);
    return Math.max(0, ...texts.map((text) => textWidth(text, style.size)));
  };
  const label = widest("th", (cell) => [plainText(cell).trim()]) + 1;
  const value = widest("td", (cell) => withBoundSpaces(plainText(cell)).split(/ +/));
  return {
    table: {
      body: cells,
      // A label stays on one line; what it names has the rest.
      widths:
        columns === 2 && label + 8 + value < setting.width
          ? [label, setting.width - label - 8]
          : columnWidths(element, columns, setting.width - 8 * (columns - 1), style.size),
    },
    layout: {
      hLineWidth: () => 0,
      vLineWidth: () => 0,
      paddingLeft: (i: number) => (i === 0 ? 0 : 8),
      paddingRight: () => 0,
      paddingTop: () => 0,
      paddingBottom: () => 1,
    },
    margin: [0, 0, 0, 0],
  };
}

/** The lines of an address, parted by its line ends. */
function addressLines(element: Element): string[] {
  const text = (nodes: readonly Node[]): string =>
    nodes
      .map((node) => (node.kind === "words" ? node.text : node.name === "br" ? "\n" : text(node.children)))
      .join("");
  return text(element.children).trim().split("\n");
}

/** The same words with the ends of lines where the rows end. */
function inRows({ line }: Element, rows: readonly string[]): Node[] {
  const end: Element = { kind: "element", name: "br", classes: [], attributes: {}, children: [], line };
  return rows.flatMap((text, i): Node[] => [...(i > 0 ? [end] : []), { kind: "words", text }]);
}

/** The head as nodes for the start of the flow; empty when the letter has none. */
export function setHead(setting: Setting, elements: readonly Element[]): PdfNode[] {
  const { letter, scale } = setting;
  if (elements.length === 0) return [];
  const sheet = SHEETS[letter.paper];
  const place = letter.addressWindow === "none" ? undefined : WINDOWS[letter.addressWindow];
  const rightEdge = sheet.widthMm - MARGIN_MM.right;
  const rightStart = letter.typeSize === "large" ? 112 : 125;
  const rightWidth = mm(rightEdge - rightStart);
  const leftWidth = mm(rightStart - MARGIN_MM.left - 6);
  // The logo gives way, so that nothing of the letterhead can show in the window.
  const aboveWindow = place ? mm(place.topMm - MARGIN_MM.top - 3) - scale.clinic.leading : mm(34);
  const logoHeight = Math.max(mm(6), Math.min(mm(15), aboveWindow));

  const left: PdfNode[] = [];
  const right: PdfNode[] = [];
  const detached: PdfNode[] = [];
  const below: PdfNode[] = [];
  for (const element of elements) {
    if (element.name === "header") {
      const parts = setLetterhead({ ...setting, width: leftWidth }, element, logoHeight);
      left.push(...parts.left);
      right.push(...parts.right);
    } else if (element.name === "address") {
      const lines = addressLines(element);
      const { style, rows } = place
        ? fitWindow(lines, place, scale.address)
        : {
            style: scale.body,
            rows: lines.flatMap((line) => addressRows(line, leftWidth, scale.body.size)),
          };
      const node = setParagraph(
        { ...setting, breakable: false },
        element,
        rows.length > lines.length ? inRows(element, rows) : element.children,
        {
          style,
          isDetached: place !== undefined,
        },
      );
      if (!node) continue;
      if (place) {
        // What is set apart may take all the width up to the right margin; a line too wide for the window goes on in a second.
        const beside = sheet.widthMm - MARGIN_MM.right - place.leftMm - place.widthMm;
        node.margin = [0, 0, mm(beside), 0];
        detached.push({
          stack: [node],
          absolutePosition: { x: mm(place.leftMm), y: mm(place.topMm) },
        });
      } else left.push(withSpaceAbove(node, scale.gap * 2));
    } else {
      const node = setReference({ ...setting, width: rightWidth }, element);
      // Large type finds no room beside the window.
      if (node && scale.stackTables) below.push(withSpaceAbove(node, scale.gap * 1.6));
      else if (node) right.push(withSpaceAbove(node, right.length > 0 ? scale.gap * 1.6 : 0));
    }
  }
  const columns: PdfNode = {
    columns: [
      { stack: left, width: leftWidth },
      { stack: right, width: rightWidth },
    ],
    columnGap: mm(6),
    margin: [0, 0, 0, 0],
  };
  const end: PdfNode = place
    ? { canvas: [], downTo: mm(place.bodyTopMm) - scale.gap }
    : { ...setRule(setting), margin: [0, scale.gap * 1.4, 0, 0] };
  return [columns, ...detached, end, ...below];
}
