/** What is handed to the PDF engine as an indented text: nodes with their measures and words, blocks and structure of each. */
import type { Letter } from "../../src/letter/document.js";
import { readMarkup } from "../../src/page/html/markup.js";
import type { Block, PdfInline, PdfNode } from "../../src/page/set/content.js";
import { compose } from "../../src/page/set/document.js";
import type { Tag } from "../../src/page/set/structure.js";
import { SCALES } from "../../src/page/type/scale.js";
import { letterOf } from "./read-back.js";

const short = (value: unknown): unknown => {
  if (typeof value === "number") return Math.round(value * 100) / 100;
  if (Array.isArray(value)) return value.map(short);
  if (typeof value === "object" && value !== null)
    return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, short(each)]));
  return value;
};
const said = (value: unknown) => JSON.stringify(short(value));

const runAsText = ({ text, inlineTag, ...look }: PdfInline) =>
  [said(text), ...Object.entries(look).map(([key, value]) => `${key}=${said(value)}`), inlineTag?.type ?? ""]
    .filter(Boolean)
    .join(" ");

type Line = (i: number) => unknown;

function layoutAsText(layout: object, columns: number, rows: number): string[] {
  const [across, down] = [Array.from({ length: columns + 1 }), Array.from({ length: rows + 1 })];
  const table = { table: { body: Array.from({ length: rows }), headerRows: 1, widths: across.slice(1) } };
  return Object.entries(layout as Record<string, Line>).map(([name, line]) => {
    const places = /^(?:v|paddingLeft|paddingRight)/u.test(name) ? across : down;
    const ask = line as (i: number, node: object) => unknown;
    const all = places.map((_, i) => said(ask(i, table)));
    return `${name} ${new Set(all).size === 1 ? all[0] : all.join(" ")}`;
  });
}

function nodeAsText(node: PdfNode, blocks: readonly Block[], indent: string): string[] {
  const { text, stack, columns, ul, ol, table, layout, content, labelTag, svg, image, ...rest } = node;
  const [kind = "nothing", kids = []] =
    Object.entries({ stack, columns, ul, ol }).find(([, list]) => list) ?? [];
  const name = table ? "table" : text !== undefined ? "text" : svg ? "svg" : image ? "image" : kind;
  const place = content && `#${blocks.indexOf(content.block)} ${content.tag?.type ?? "artifact"}`;
  const looks = Object.entries(rest)
    .filter(([key]) => key !== "flow")
    .map(([key, value]) => `${key}=${said(value)}`);
  const inside = `${indent}  `;
  const lines = [`${indent}${[name, place, ...looks].filter(Boolean).join(" ")}`];
  if (svg) lines.push(`${inside}${/^<svg[^>]*>/u.exec(svg)?.[0]}`);
  if (typeof text === "string") lines.push(`${inside}${said(text)}`);
  else lines.push(...(text ?? []).map((run) => inside + runAsText(run)));
  for (const kid of kids as PdfNode[]) lines.push(...nodeAsText(kid, blocks, inside));
  if (table) {
    const { body, rowBlocks, ...more } = table;
    lines.push(inside + said({ ...more, rowBlocks: rowBlocks?.map((b) => b && blocks.indexOf(b)) }));
    lines.push(...layoutAsText(layout ?? {}, table.widths.length, body.length).map((line) => inside + line));
    for (const row of body) {
      lines.push(`${inside}row`);
      for (const cell of row) lines.push(...nodeAsText(cell, blocks, `${inside}  `));
    }
  }
  return lines;
}

const blockAsText = (block: Block, blocks: readonly Block[]) => {
  const { rule, where, parent, node, drawing, photo, ...more } = block;
  const has = Object.entries({ node, drawing, photo }).flatMap(([key, value]) => (value ? [key] : []));
  return [
    `#${blocks.indexOf(block)} ${rule} ${where}`,
    parent && `in #${blocks.indexOf(parent)}`,
    ...Object.entries(more).map(([key, value]) => `${key}=${said(value)}`),
    ...has,
  ]
    .filter(Boolean)
    .join(" ");
};

function tagAsText(tag: Tag, indent = ""): string[] {
  const kids = tag.kids.flatMap((kid) => (kid.kind === "tag" ? tagAsText(kid, `${indent}  `) : []));
  return [
    `${indent}${tag.type}${Object.keys(tag.attributes).length > 0 ? ` ${said(tag.attributes)}` : ""}`,
    ...kids,
  ];
}

/** The body of a document as it is handed over. */
export function asTree(html: string, more: Partial<Letter> = {}): string {
  const { value, problems: inMarkup } = readMarkup(html);
  if (!value) throw new Error(inMarkup.map(({ message }) => message).join("; "));
  const letter = letterOf(html, more);
  const problems: Parameters<typeof compose>[3] = [];
  const { definition, root, flow } = compose(letter, value, SCALES[letter.typeSize], problems);
  const { content, footer, background, ...page } = definition as {
    content: PdfNode;
    footer: (page: number, pages: number) => PdfNode;
    background: (page: number) => PdfNode | undefined;
  };
  const { blocks } = flow as unknown as { blocks: readonly Block[] };
  const behind = background(1);
  return [
    ...nodeAsText(content, blocks, ""),
    ...blocks.map((block) => blockAsText(block, blocks)),
    ...tagAsText(root),
    ...problems.map(({ severity, id, message }) => `${severity} ${id}: ${message}`),
    ...(more.identifiers === undefined
      ? []
      : [said(page), ...nodeAsText(footer(1, 2), blocks, ""), ...(behind ? [String(behind.svg)] : [])]),
  ].join("\n");
}
