/** Lists: plain, numbered, pictured (a small drawing beside each sentence) and label with value. */

import { childElements, type Element, plainText } from "../html/markup.js";
import { withBoundSpaces } from "../type/bound-words.js";
import { countLines, textWidth } from "../type/fonts.js";
import type { Block, PdfNode } from "./content.js";
import { setDrawing } from "./figure.js";
import { addBlock, type Setting, setParagraph, typeOf } from "./setting.js";
import { addTag } from "./structure.js";

const NO_LINES = { hLineWidth: () => 0, vLineWidth: () => 0 };

/** `ul` and `ol`. */
export function setList(setting: Setting, element: Element): PdfNode {
  const { scale } = setting;
  const block = addBlock(setting, "open", element, { list: true });
  const list = addTag(setting.tag, "L", { numbering: element.name === "ol" ? "Decimal" : "Disc" });
  const all = childElements(element);
  const start = Number(element.attributes.start);
  // One item needs no number, nor any sign beside its label.
  const isSingle = all.length === 1 && (element.name === "ol" ? !(start > 0) : setting.isValue === true);
  const indent = isSingle ? 0 : setting.style.size * 1.4;
  const spare = Math.max(0, setting.width - setting.style.size * setting.measureEms);
  const width = setting.width - indent - spare;
  const items = all.map((item, index): PdfNode => {
    const tag = addTag(list, "LI");
    if (isSingle)
      return {
        stack: setting.setBlocks({ ...setting, block, tag: addTag(tag, "LBody"), width }, item, {
          wordsType: null,
          tightness: 0.5,
        }),
        margin: [0, 0, 0, 0],
      };
    const labelTag = addTag(tag, "Lbl");
    const inner: Setting = {
      ...setting,
      block,
      tag: addTag(tag, "LBody"),
      width,
    };
    const stack = setting.setBlocks(inner, item, { wordsType: null, tightness: 0.5 });
    return {
      stack,
      labelTag,
      margin: [0, index === 0 ? 0 : scale.gap * 0.4, 0, 0],
    };
  });
  const node: PdfNode = {
    ...(isSingle
      ? { stack: items }
      : element.name === "ol"
        ? { ol: items, ...(start > 0 ? { start } : {}) }
        : { ul: items }),
    ...typeOf(setting.style),
    margin: [0, 0, spare, 0],
  };
  block.node = node;
  return node;
}

/** `ul.pictured`: each item a small drawing at the left and its sentence at the right, never split. */
export function setPictured(setting: Setting, element: Element): PdfNode {
  const { scale } = setting;
  const block = addBlock(setting, "open", element);
  const list = addTag(setting.tag, "L", { numbering: "None" });
  const side = setting.style.size * 3.6;
  const gutter = setting.style.size;
  const rowBlocks: Block[] = [];
  const body = childElements(element).map((item): PdfNode[] => {
    const row = addBlock({ ...setting, block }, "row", item);
    rowBlocks.push(row);
    const tag = addTag(addTag(list, "LI"), "LBody");
    const inner: Setting = { ...setting, block: row, breakable: false, tag };
    const drawing = childElements(item).find((child) => child.name === "svg" || child.name === "img");
    const picture = drawing && setDrawing(inner, drawing, { width: side, height: side, grow: 3 });
    const words: Element = {
      ...item,
      children: item.children.filter((child) => child !== drawing),
    };
    const width = setting.width - side - gutter;
    const stack = setting.setBlocks({ ...inner, width }, words, { wordsType: "P" });
    // A short sentence stands level with the middle of its drawing.
    const lines = countLines(withBoundSpaces(plainText(words).trim()), width, setting.style.size);
    const above = picture ? Math.max(0, ((picture.fit?.[1] ?? 0) - lines * setting.style.leading) / 2) : 0;
    return [picture ?? { text: "" }, { stack, margin: [0, above, 0, 0] }];
  });
  if (body.length === 0) return { stack: [] };
  block.node = {
    table: {
      body,
      rowBlocks,
      widths: [side, setting.width - side - gutter],
      get dontBreakRows() {
        return !rowBlocks[0]?.mayBeSplit;
      },
    },
    layout: {
      ...NO_LINES,
      paddingLeft: (i: number) => (i === 0 ? 0 : gutter),
      paddingRight: () => 0,
      paddingTop: (i: number) => (i === 0 ? 0 : scale.gap * 0.6),
      paddingBottom: (i: number) => (i === body.length - 1 ? 0 : scale.gap * 0.6),
    },
    margin: [0, 0, 0, 0],
  };
  return block.node;
}

/** `dl`: labels in a narrow column, values beside them. */
export function setDefinitions(setting: Setting, element: Element): PdfNode {
  const { scale } = setting;
  const block = addBlock(setting, "open", element);
  const list = addTag(setting.tag, "L", { numbering: "None" });
  const pairs: { label: Element; values: Element[] }[] = [];
  for (const child of childElements(element)) {
    if (child.name === "dt") pairs.push({ label: child, values: [] });
    else pairs[pairs.length - 1]?.values.push(child);
  }
  const widest = Math.max(
    0,
    ...pairs.map(({ label }) => textWidth(plainText(label).trim(), setting.style.size, "bold")),
  );
  const gutter = setting.style.size * 1.2;
  const labelWidth = Math.min(widest + 2, setting.width * 0.38);
  const rowBlocks: Block[] = [];
  const body = pairs.map(({ label, values }): PdfNode[] => {
    const row = addBlock({ ...setting, block }, "row", label);
    rowBlocks.push(row);
    const item = addTag(list, "LI");
    const inner: Setting = { ...setting, block: row, breakable: false };
    const words = setParagraph({ ...inner, tag: addTag(item, "Lbl") }, label, label.children, {
      style: { ...setting.style, bold: true },
      type: null,
    });
    const tag = addTag(item, "LBody");
    const width = Math.min(setting.width - labelWidth - gutter, setting.style.size * setting.measureEms);
    const stack = values.flatMap((value) =>
      setting.setBlocks({ ...inner, tag, width, isValue: true }, value, { wordsType: null }),
    );
    return [words ?? { text: "" }, { stack, margin: [0, 0, 0, 0] }];
  });
  if (body.length === 0) return { stack: [] };
  block.node = {
    table: {
      body,
      rowBlocks,
      widths: [labelWidth, setting.width - labelWidth - gutter],
      get dontBreakRows() {
        return !rowBlocks[0]?.mayBeSplit;
      },
    },
    layout: {
      ...NO_LINES,
      paddingLeft: (i: number) => (i === 0 ? 0 : gutter),
      paddingRight: () => 0,
      paddingTop: (i: number) => (i === 0 ? 0 : scale.gap * 0.28),
      paddingBottom: () => scale.gap * 0.28,
    },
    margin: [0, 0, 0, 0],
  };
  return block.node;
}
