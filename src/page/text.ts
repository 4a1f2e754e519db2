/** A finished letter -> plain text of 78 columns, for e-mail, terminals and screen readers. */
import type { Letter } from "../letter/document.js";
import { childElements, type Element, type Node, readLeniently } from "./html/markup.js";
import { ELEMENTS } from "./html/vocabulary.js";
import { indent, type Lines, wrap } from "./text/lines.js";
import { tableLines } from "./text/table.js";
import { cleanText } from "./type/characters.js";

const COLUMNS = 78;

/** Words with links spelled out; line ends stay. */
function words(node: Node): string {
  if (node.kind === "words") return cleanText(node.text);
  if (node.name === "br") return "\n";
  const inner = node.children.map(words).join("");
  const target = (node.attributes.href ?? "").replace(/^(mailto|tel):/, "");
  const isSaid =
    target === "" || inner.replace(/\s/g, "").includes(target) || node.attributes.href?.startsWith("tel:");
  return isSaid ? inner : `${inner} <${cleanText(target)}>`;
}

function paragraph(nodes: readonly Node[], width: number): Lines {
  const text = nodes.map(words).join("").trim();
  return text === "" ? [] : wrap(text, width);
}

function underlined(element: Element, mark: string, width: number): Lines {
  const lines = paragraph(element.children, width);
  const longest = Math.max(0, ...lines.map((line) => [...line].length));
  return lines.length === 0 ? lines : [...lines, mark.repeat(longest)];
}

function list(element: Element, width: number): Lines {
  let number = Number(element.attributes.start ?? 1) || 1;
  const items = childElements(element);
  // One item needs no number.
  if (items[0] && items.length === 1 && element.name === "ol" && !element.attributes.start)
    return blocks(items[0], width, false);
  return items.flatMap((item) => {
    const label = element.name === "ol" ? `${number}. ` : "- ";
    number += 1;
    return indent(blocks(item, width - label.length, false), " ".repeat(label.length), label);
  });
}

function definitions(element: Element, width: number): Lines {
  return childElements(element).flatMap((child) => {
    if (child.name === "dt") return [];
    const at = element.children.indexOf(child);
    const before = element.children.slice(0, at).findLast((node) => node.kind === "element");
    const label = before?.kind === "element" && before.name === "dt" ? `${words(before).trim()}: ` : "";
    const [first = "", ...rest] = blocks(child, width - 4, false);
    return indent(wrap([label + first, ...rest].join(" ").trim(), width - 4), "    ", "");
  });
}

function drawing(element: Element, width: number): Lines {
  const alt = element.attributes["aria-label"] ?? element.attributes.alt ?? "";
  const isOrnament = element.attributes["aria-hidden"] === "true" || alt.trim() === "";
  return isOrnament ? [] : wrap(`[${cleanText(alt)}]`, width);
}

function boxed(element: Element, mark: string, width: number): Lines {
  const rule = mark.repeat(width);
  return [rule, ...indent(blocks(element, width - 4, true), "  ", "  "), rule];
}

/** The clinic's name stands in words beside its logo. */
function isNotLogo(node: Node): boolean {
  return node.kind === "words" || node.name === "p";
}

function block(element: Element, width: number): Lines {
  switch (element.name) {
    case "h1":
      return underlined(element, "=", width);
    case "h2":
      return underlined(element, "-", width);
    case "ul":
    case "ol":
      return list(element, width);
    case "dl":
      return definitions(element, width);
    case "table":
      return tableLines(element, width, (cell, cellWidth) => blocks(cell, cellWidth, false));
    case "svg":
    case "img":
      return drawing(element, width);
    case "aside":
      return boxed(element, element.classes.includes("summary") ? "=" : "-", width);
    case "hr":
      return ["-".repeat(width)];
    case "figure":
    case "div":
    case "section":
      return blocks(element, width, element.name !== "figure");
    case "header":
      return blocks({ ...element, children: element.children.filter(isNotLogo) }, width, false);
    default:
      return paragraph(element.children, width);
  }
}

function isHeading(element: Element | undefined): boolean {
  return element !== undefined && /^h[1-3]$/.test(element.name);
}

/** The children of `parent` one below the other; `isOpen` puts an empty line between them. */
function blocks(parent: Element, width: number, isOpen: boolean): Lines {
  const lines: string[] = [];
  let before: Element | undefined;
  let pending: Node[] = [];
  const add = (more: Lines, needsGap: boolean) => {
    if (more.length === 0) return;
    if (lines.length > 0 && needsGap) lines.push("");
    lines.push(...more);
  };
  const flush = () => {
    add(paragraph(pending, width), isOpen);
    pending = [];
  };
  for (const child of parent.children) {
    if (child.kind === "words" || ELEMENTS[child.name]?.isInline) {
      pending.push(child);
      continue;
    }
    flush();
    // A heading stands directly on its text, except where a rule or table begins.
    add(block(child, width), isOpen && !(isHeading(before) && before?.name !== "h1"));
    before = child;
  }
  flush();
  return lines;
}

/** The letter as plain text, lines of at most 78 columns ending with "\n". Figures appear as their text alternative. */
export function renderText(letter: Letter): string {
  const { root } = readLeniently(letter.html);
  const mark = letter.draftMark === null ? [] : [`*** ${cleanText(letter.draftMark)} ***`, ""];
  const rule = "-".repeat(COLUMNS);
  const foot = [letter.identifiers, letter.confidentiality].map(cleanText).filter((line) => line !== "");
  const lines = [
    ...mark,
    ...blocks(root, COLUMNS, true),
    "",
    rule,
    ...foot.flatMap((line) => wrap(line, COLUMNS)),
    ...mark.slice(0, 1),
  ];
  return `${lines.map((line) => line.trimEnd()).join("\n")}\n`;
}

function spacedWords(node: Node): string {
  if (node.kind === "words") return node.text;
  const inner = node.children.map(spacedWords).join("");
  return ELEMENTS[node.name]?.isInline && node.name !== "br" ? inner : ` ${inner} `;
}

/** Words of a letter without any setting, for comparing what was meant with what was printed. */
export function wordsOf(letter: Letter): string {
  return cleanText(spacedWords(readLeniently(letter.html).root))
    .replace(/\s+/g, " ")
    .trim();
}
