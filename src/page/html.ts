/** A finished letter -> one HTML page that needs nothing from elsewhere and prints well. */
import { escapeXml } from "../base/text.js";
import type { Letter } from "../letter/document.js";
import { type Element, headingLevels, type Node, readLeniently } from "./html/markup.js";
import { PAGE_CSS, sheetCss } from "./html/page-style.js";
import { COMMON_ATTRIBUTES, ELEMENTS } from "./html/vocabulary.js";
import { cleanText, cleanWithIsolates } from "./type/characters.js";
import { hasRightToLeft, isolates } from "./type/right-to-left.js";

function escapeHtml(text: string): string {
  return escapeXml(cleanText(text));
}

/** Gives the ids inside one drawing a name of their own, since a page may show several. */
function withOwnIds(drawing: string, number: number): string {
  return drawing
    .replace(/\sid="([^"]+)"/g, ` id="d${number}-$1"`)
    .replace(/url\(#([^)]+)\)/g, `url(#d${number}-$1)`)
    .replace(/href="#([^"]+)"/g, `href="#d${number}-$1"`);
}

interface Writer {
  readonly letter: Letter;
  readonly withDrawings: boolean;
  readonly levels: ReadonlyMap<Element, number>;
  drawings: number;
}

function source(name: string, letter: Letter): string {
  const key = name.replace(/^photo:/, "");
  const bytes = Object.hasOwn(letter.photos, key) ? letter.photos[key] : undefined;
  if (!bytes) return "";
  const kind = bytes[0] === 0x89 ? "png" : "jpeg";
  return `data:image/${kind};base64,${Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64")}`;
}

function attributes(element: Element, writer: Writer): string {
  const allowed = [...COMMON_ATTRIBUTES, ...(ELEMENTS[element.name]?.attributes ?? [])];
  return Object.entries(element.attributes)
    .filter(([name]) => allowed.includes(name) && name !== "data-widths")
    .filter(([name, value]) => name !== "href" || /^(https?:|mailto:|tel:)/.test(value))
    .map(([name, value]) => ` ${name}="${name === "src" ? source(value, writer.letter) : escapeHtml(value)}"`)
    .join("");
}

/** The subject line is the title where no heading is; boxes are notes, since a page may hold several. */
function role(element: Element, { levels }: Writer): string {
  if (element.name === "aside") return ' role="note"';
  const level = element.name === "p" ? levels.get(element) : undefined;
  return level === undefined ? "" : ` role="heading" aria-level="${level}"`;
}

/** Columns of `div.beside` and of tables keep the shares given to them. */
function widthsStyle(element: Element): string {
  const shares = element.attributes["data-widths"]?.trim().split(/\s+/) ?? [];
  if (element.name !== "div" || shares.length === 0) return "";
  const columns = shares.map((share) => (share === "*" ? "1fr" : `${Number(share) || 1}fr`)).join(" ");
  return ` style="grid-template-columns: ${columns}"`;
}

function columnGroup(element: Element): string {
  const shares = element.attributes["data-widths"]?.trim().split(/\s+/) ?? [];
  if (element.name !== "table" || shares.length === 0) return "";
  const columns = shares.map((share) =>
    share === "*" ? "<col>" : `<col style="width: ${Number(share) || 1}%">`,
  );
  return `<colgroup>${columns.join("")}</colgroup>`;
}

/** Each right-to-left passage stands by itself, so that it does not move the numbers beside it. */
function wordsOf(text: string): string {
  if (!hasRightToLeft(text)) return escapeHtml(text);
  return isolates(cleanWithIsolates(text))
    .map((part) => (part.isolated ? `<bdi>${escapeHtml(part.text)}</bdi>` : escapeHtml(part.text)))
    .join("");
}

function write(node: Node, writer: Writer): string {
  if (node.kind === "words") return wordsOf(node.text);
  const { name } = node;
  if (name === "svg") {
    writer.drawings += 1;
    return writer.withDrawings ? withOwnIds(node.drawing ?? "", writer.drawings) : "";
  }
  const inner = node.children.map((child) => write(child, writer)).join("");
  const kind = ELEMENTS[name];
  if (!kind) return inner;
  const start = `<${name}${attributes(node, writer)}${role(node, writer)}${widthsStyle(node)}>`;
  if (kind.holds === "nothing") return start;
  // The caption has to come before the column widths.
  const caption = name === "table" ? (/^<caption[\s\S]*?<\/caption>/.exec(inner)?.[0] ?? "") : "";
  return `${start}${caption}${columnGroup(node)}${inner.slice(caption.length)}</${name}>${kind.isInline ? "" : "\n"}`;
}

/** The letter as a standalone page: own style and print rules, no request to anywhere, identifiers and draft mark in view. */
export function renderHtml(letter: Letter): string {
  const { root, problems } = readLeniently(letter.html);
  const writer: Writer = {
    letter,
    levels: headingLevels(root),
    withDrawings: !problems.some((p) => p.id === "drawing-not-set"),
    drawings: 0,
  };
  const body = root.children.map((node) => write(node, writer)).join("");
  const mark = letter.draftMark === null ? "" : `<p class="draft-mark">${escapeHtml(letter.draftMark)}</p>\n`;
  const backdrop =
    letter.draftMark === null
      ? ""
      : `<div class="draft-backdrop" aria-hidden="true">${escapeHtml(letter.draftMark)}</div>\n`;
  return `<!doctype html>
<html lang="${escapeHtml(letter.language)}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; style-src 'unsafe-inline'">
<title>${escapeHtml(letter.title)}</title>
<style>
${PAGE_CSS}${sheetCss(letter)}
</style>
</head>
<body>
${backdrop}${mark}<main>
${body}</main>
<footer><p>${escapeHtml(letter.identifiers)}</p>
<p>${escapeHtml(letter.confidentiality)}</p></footer>
</body>
</html>
`;
}
