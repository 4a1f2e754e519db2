/** Words and marks inside a paragraph as runs of an office document. */
import { ExternalHyperlink, ImageRun, type IRunOptions, type ParagraphChild, TextRun } from "docx";
import { readImageHead } from "../drawing/image-size.js";
import type { Element, Node } from "../html/markup.js";
import { cleanText, cleanWithIsolates } from "../type/characters.js";
import { PALETTE } from "../type/palette.js";
import { hasRightToLeft, isolates } from "../type/right-to-left.js";
import type { Scale } from "../type/scale.js";
import { colour, halfPoints } from "./parts.js";
import type { DocxSetting } from "./setting.js";

type RunStyle = Pick<IRunOptions, "bold" | "italics" | "size" | "color" | "language">;

/** Points to the pixels in which the library measures pictures. */
const PX_PER_POINT = 96 / 72;

/** The runs of inline nodes; space at both ends is left out. */
export function runsOf(nodes: readonly Node[], scale: Scale, style: RunStyle = {}): ParagraphChild[] {
  return trimmed(afterBreaks(nodes)).flatMap((node) => runs(node, scale, style));
}

function runs(node: Node, scale: Scale, style: RunStyle): ParagraphChild[] {
  if (node.kind === "words") {
    if (!hasRightToLeft(node.text)) return [new TextRun({ ...style, text: cleanText(node.text) })];
    return isolates(cleanWithIsolates(node.text)).map(
      ({ text, isolated }) => new TextRun({ ...style, text, ...(isolated ? { rightToLeft: true } : {}) }),
    );
  }
  if (node.name === "br") return [new TextRun({ ...style, break: 1 })];
  const inner = (more: RunStyle) =>
    node.children.flatMap((child) => runs(child, scale, { ...style, ...more }));
  switch (node.name) {
    case "strong":
      return inner({ bold: true });
    case "em":
      return inner({ italics: true });
    case "small":
      return inner({ bold: false, size: halfPoints(scale.small.size), color: colour(PALETTE.quiet) });
    case "span":
      return inner(node.attributes.lang ? { language: { value: node.attributes.lang } } : {});
    case "a":
      return /^(?:https?:|mailto:|tel:)/u.test(node.attributes.href ?? "")
        ? [new ExternalHyperlink({ link: node.attributes.href ?? "", children: inner({}) })]
        : inner({});
    default:
      return inner({});
  }
}

/** A space that begins a line is layout of the template. */
function afterBreaks(nodes: readonly Node[]): Node[] {
  return nodes.map((node, i) => {
    const before = nodes[i - 1];
    const isFirst = before?.kind === "element" && before.name === "br";
    return isFirst && node.kind === "words" ? { ...node, text: node.text.replace(/^[ \n]+/u, "") } : node;
  });
}

/** A space at the edge of a paragraph is layout of the template. */
function trimmed(nodes: readonly Node[]): Node[] {
  const kept = [...nodes];
  const edge = (index: number, clean: (text: string) => string) => {
    for (;;) {
      const node = kept.at(index);
      if (node?.kind !== "words") return;
      const text = clean(node.text);
      if (text !== "") {
        kept.splice(index === 0 ? 0 : kept.length - 1, 1, { kind: "words", text });
        return;
      }
      kept.splice(index === 0 ? 0 : kept.length - 1, 1);
    }
  };
  edge(0, (text) => text.replace(/^[ \n]+/u, ""));
  edge(-1, (text) => text.replace(/[ \n]+$/u, ""));
  return kept;
}

/** A drawing as a file of its own, which must name what it is. */
export function standalone(drawing: string): string {
  return /\sxmlns\s*=/u.test(/^<svg[^>]*>/u.exec(drawing)?.[0] ?? "")
    ? drawing
    : drawing.replace(/^<svg/u, '<svg xmlns="http://www.w3.org/2000/svg"');
}

/** A drawing or photo no wider than `widthPt`, with its text alternative; undefined when there is nothing to show. */
export function pictureOf(element: Element, setting: DocxSetting, widthPt: number): ImageRun | undefined {
  const alt = cleanText(element.attributes["aria-label"] ?? element.attributes.alt ?? "");
  const altText = { name: alt.slice(0, 60) || "drawing", description: alt, title: "" };
  if (element.name === "svg") {
    const drawing = element.drawing ?? "";
    const size = drawingSize(drawing);
    const pixels = setting.pixels.get(drawing);
    if (!size || !pixels) return undefined;
    return new ImageRun({
      type: "svg",
      data: Buffer.from(standalone(drawing), "utf8"),
      fallback: { type: "png", data: pixels },
      transformation: fitted(size, widthPt),
      altText,
    });
  }
  const key = (element.attributes.src ?? "").replace(/^photo:/u, "");
  const bytes = Object.hasOwn(setting.letter.photos, key) ? setting.letter.photos[key] : undefined;
  const head = bytes && readImageHead(bytes);
  if (!bytes || !head) return undefined;
  const asked = Number.parseFloat(element.attributes.width ?? "") || head.widthPx * 0.75;
  const size = { width: asked, height: (asked * head.heightPx) / head.widthPx };
  const type = head.kind === "png" ? "png" : "jpg";
  return new ImageRun({ type, data: bytes, transformation: fitted(size, widthPt), altText });
}

function fitted(size: { width: number; height: number }, widthPt: number): { width: number; height: number } {
  const share = Math.min(1, widthPt / size.width) * PX_PER_POINT;
  return { width: Math.round(size.width * share), height: Math.round(size.height * share) };
}

/** Natural size of a drawing in points, from width and height or the viewBox. */
export function drawingSize(drawing: string): { width: number; height: number } | undefined {
  const head = /^<svg[^>]*>/u.exec(drawing)?.[0] ?? "";
  const read = (name: string) =>
    Number.parseFloat(new RegExp(`\\s${name}\\s*=\\s*["']([\\d.]+)`, "u").exec(head)?.[1] ?? "");
  const box = /\sviewBox\s*=\s*["']\s*[-\d.]+[\s,]+[-\d.]+[\s,]+([\d.]+)[\s,]+([\d.]+)/u.exec(head);
  const width = read("width") || Number(box?.[1]);
  const height = read("height") || Number(box?.[2]);
  return width > 0 && height > 0 ? { width, height } : undefined;
}
