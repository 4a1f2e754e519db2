/** What is handed to the engine: nodes, blocks and structure of small bodies, before anything is laid out. */
import { expect, test } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { childElements, type Element, readMarkup } from "../../src/page/html/markup.js";
import { columnWidths } from "../../src/page/set/column-widths.js";
import type { PdfNode } from "../../src/page/set/content.js";
import { compose } from "../../src/page/set/document.js";
import { setBackdrop } from "../../src/page/set/foot.js";
import type { Tag } from "../../src/page/set/structure.js";
import { textWidth as widthOf } from "../../src/page/type/fonts.js";
import { SCALES } from "../../src/page/type/scale.js";
import { letterOf } from "./read-back.js";
import { REFERRAL } from "./sample-letter.js";

function composed(html: string, more: Partial<Letter> = {}) {
  const { value } = readMarkup(html);
  const letter = letterOf(html, more);
  const { definition, root } = compose(letter, value as Element, SCALES[letter.typeSize], []);
  const { content } = definition as { content: PdfNode };
  return { nodes: content.stack ?? [], root };
}

/** Every node below, itself first. */
function below(node: PdfNode): PdfNode[] {
  const kids = [...(node.stack ?? []), ...(node.columns ?? []), ...(node.table?.body.flat() ?? [])];
  return [node, ...kids.flatMap(below)];
}

const tags = (tag: Tag): Tag[] => [tag, ...tag.kids.flatMap((kid) => (kid.kind === "tag" ? tags(kid) : []))];
const saying = (nodes: readonly PdfNode[], words: string) =>
  nodes.flatMap(below).find(
    (n) =>
      Array.isArray(n.text) &&
      n.text
        .map((run) => run.text)
        .join("")
        .includes(words),
  );

/** As wide as a rule is drawn. */
function textWidth(): number {
  const rule = composed("<hr>").nodes[0]?.canvas?.[0] as { readonly x2: number } | undefined;
  return rule?.x2 ?? 0;
}

test.each([
  ["<ul><li>a</li></ul>", "heading"],
  ["<ol><li>a</li></ol>", "heading"],
  ["<dl><dt>a</dt><dd>b</dd></dl>", "heading"],
  ["<table><tbody><tr><td>a</td></tr></tbody></table>", "heading"],
  ["<p>a</p>", "text"],
] as const)("words that end with a colon stay with %s: %s", (next, rule) => {
  expect(saying(composed(`<p>As follows:</p>${next}`).nodes, "As follows")?.content?.block.rule).toBe(rule);
  expect(saying(composed(`<p>As follows.</p>${next}`).nodes, "As follows")?.content?.block.rule).toBe("text");
});

test("lists say how they are numbered", () => {
  const numbering = (html: string) =>
    tags(composed(html).root).flatMap((tag) => (tag.type === "L" ? [tag.attributes.numbering] : []));
  expect(numbering("<ol><li>a</li></ol><ul><li>a</li></ul>")).toEqual(["Decimal", "Disc"]);
});

test("a box is as wide as the text: its words, padding and both sides of its frame", () => {
  const { nodes } = composed('<aside class="caution"><p>Please bear in mind.</p></aside>');
  const box = nodes[0];
  const layout = box?.layout as Record<string, (i: number) => number>;
  const sides = [0, 1].map((i) => layout.vLineWidth?.(i) ?? 0);
  expect(sides).toEqual([1, 1]);
  const padding = (layout.paddingLeft?.(0) ?? 0) + (layout.paddingRight?.(0) ?? 0);
  expect((box?.table?.widths[0] ?? 0) + padding + 2).toBeCloseTo(textWidth(), 9);
});

test("columns of words stand side by side while each is 14 ems wide, and below one another when not", () => {
  const width = textWidth();
  const { size } = SCALES.reading.body;
  const shares = (ems: number) => {
    const room = width - size * 1.6;
    const first = (100 * ems * size) / room;
    return `<div class="beside" data-widths="${first} ${100 - first}"><p>a</p><p>b</p></div>`;
  };
  expect(composed(shares(14.1)).nodes[0]?.columns).toHaveLength(2);
  expect(composed(shares(13.9)).nodes[0]?.columns).toBeUndefined();
});

test("what a table leaves free goes to its last column", () => {
  const widths = (html: string) =>
    composed(html)
      .nodes.flatMap(below)
      .find((n) => n.table)?.table?.widths ?? [];
  const [first = 0, second = 0, last = 0] = widths(
    "<table><tbody><tr><td>aaaa</td><td>aaaa</td><td>aaaa</td></tr></tbody></table>",
  );
  expect(second).toBeCloseTo(first, 9);
  expect(last).toBeGreaterThan(5 * first);
});

test("fold marks stand on the first page alone", () => {
  const letter = { ...REFERRAL, foldMarks: true, draftMark: null };
  expect(setBackdrop(letter, 1)?.svg?.match(/<line /gu)?.length).toBeGreaterThan(0);
  expect(setBackdrop(letter, 2)).toBeUndefined();
});

test("a cell belongs to every heading above it, the joined one and its own", () => {
  const html = `<table><thead><tr><th scope="col" colspan="2">Dots</th></tr>
    <tr><th scope="col">Black</th><th scope="col">Yellow</th></tr></thead>
    <tbody><tr><td>3</td><td>4</td></tr></tbody></table>`;
  const cells = tags(composed(html).root).filter((tag) => tag.type === "TH" || tag.type === "TD");
  const [over = "", black = "", yellow = ""] = cells.map((cell) => cell.attributes.id ?? "");
  expect(cells.map((cell) => cell.attributes.headers)).toEqual([
    undefined,
    [over],
    [over],
    [over, black],
    [over, yellow],
  ]);
});

test("columns have room where every row joins some of its cells", () => {
  const html = `<table><thead><tr><th>Measure</th><th colspan="2">Nape</th><th colspan="2">Left occipital</th></tr></thead><tbody>
    <tr><th>Single-hair units</th><td class="number">100.0 %</td><td>(20.7)</td><td colspan="2">not counted</td></tr>
    <tr><th>Diameter</th><td colspan="2">not counted</td><td class="number">20.0</td><td>(1)</td></tr></tbody></table>`;
  const { value } = readMarkup(html);
  const table = value && childElements(value)[0];
  if (!table) throw new Error("no table");
  const [measure = 0, ...rest] = columnWidths(table, 5, 500, 10);
  expect(measure).toBeGreaterThan(widthOf("Single-hair units", 10, "bold"));
  expect(rest[0]).toBeGreaterThan(widthOf("100.0 %", 10));
  expect((rest[2] ?? 0) + (rest[3] ?? 0)).toBeGreaterThan(widthOf("Left occipital", 10, "bold"));
});

test("columns under a joined cell have room for its longest word together, the last of them for what the others lack", () => {
  const long = "Dermatoscopicallywide";
  const { value } = readMarkup(
    `<table data-widths="10 10 *"><thead><tr><th colspan="2">${long}</th><th>x</th></tr></thead><tbody><tr><td>aa</td><td colspan="2">b</td></tr></tbody></table>`,
  );
  const table = value && childElements(value)[0];
  if (!table) throw new Error("no table");
  const [first = 0, second = 0] = columnWidths(table, 3, 500, 10);
  expect(first + second).toBeGreaterThanOrEqual(widthOf(long, 10, "bold"));
  expect(second).toBeGreaterThan(first);
});

test("a list takes all the width that a paragraph takes, on the page and in a narrow column", () => {
  const spare = (html: string) =>
    composed(html)
      .nodes.flatMap(below)
      .find((n) => n.ul || n.content?.block.rule === "text")?.margin?.[2];
  const narrow = (inner: string) => `<div class="beside" data-widths="50 50">${inner}<p>b</p></div>`;
  expect(spare("<p>a</p>")).toBe(0);
  expect(spare("<ul><li>a</li></ul>")).toBe(0);
  expect(spare(narrow("<ul><li>a</li></ul>"))).toBe(0);
});

test("figures of a table stand at the right, as words or as a paragraph", () => {
  const cell = (inner: string) =>
    saying(
      composed(`<table><tbody><tr><td class="number">${inner}</td><td>b</td></tr></tbody></table>`).nodes,
      "3",
    )?.alignment;
  expect(cell("3")).toBe("right");
  expect(cell("<p>3</p>")).toBe("right");
});
