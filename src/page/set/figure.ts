/** Drawings and photos, scaled to fit their column, with their text alternative. */

import { readImageHead } from "../drawing/image-size.js";
import { childElements, type Element } from "../html/markup.js";
import { pageError } from "../problems.js";
import { cleanText, setRuns } from "../type/characters.js";
import { BODY_FACE, type Faces, faceFor, facesInUse } from "../type/fonts.js";
import { PALETTE } from "../type/palette.js";
import { hasRightToLeft } from "../type/right-to-left.js";
import type { PdfNode } from "./content.js";
import { addBlock, type Setting, setParagraph, withSpaceAbove } from "./setting.js";
import { addTag } from "./structure.js";

/** Natural size of a drawing in points, from width and height or the viewBox. */
function sizeOfDrawing(source: string): { width: number; height: number } | undefined {
  const head = /^<svg[^>]*>/.exec(source)?.[0] ?? "";
  const read = (name: string) =>
    Number.parseFloat(new RegExp(`\\s${name}\\s*=\\s*["']([\\d.]+)`).exec(head)?.[1] ?? "");
  const box = /\sviewBox\s*=\s*["']\s*[-\d.]+[\s,]+[-\d.]+[\s,]+([\d.]+)[\s,]+([\d.]+)/.exec(head);
  const width = read("width") || Number.parseFloat(box?.[1] ?? "");
  const height = read("height") || Number.parseFloat(box?.[2] ?? "");
  return width > 0 && height > 0 ? { width, height } : undefined;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

/** The words drawn inside a drawing, without its title and description. */
function lettering(source: string): string {
  return source
    .replace(/<(title|desc)\b[\s\S]*?<\/\1>/g, "")
    .replace(/<[^>]*>/g, "")
    .replace(/&(?:#x([\da-f]+)|#(\d+)|(\w+));/gi, (all, hex, decimal, name) => {
      if (hex) return String.fromCodePoint(Number.parseInt(hex, 16));
      return decimal ? String.fromCodePoint(Number(decimal)) : (ENTITIES[name] ?? all);
    });
}

/**
 * The drawing with its lettering in a typeface that has every character of it: the engine letters a drawing in one typeface
 * and leaves out in silence what that lacks. Undefined when there is none; the problem is then reported.
 */
function withLettering(setting: Setting, element: Element, source: string): string | undefined {
  const words = cleanText(lettering(source).replace(/\s+/g, " "));
  const face = hasRightToLeft(words) ? undefined : faceFor(words, "normal", "bold");
  if (face === BODY_FACE) return source;
  if (face !== undefined) {
    return source
      .replace(/\sfont-family\s*=\s*("[^"]*"|'[^']*')/g, "")
      .replace(/^<svg/, `<svg font-family="${face}"`);
  }
  const place = { cut: "bold" as const, where: "the lettering of a drawing", line: element.line };
  const before = setting.problems.length;
  setRuns(words, place, setting.problems);
  if (setting.problems.length === before) {
    const message = `the lettering of a drawing mixes scripts that no one typeface has`;
    setting.problems.push(pageError("drawing-not-set", message, { line: element.line }));
  }
  return undefined;
}

/** Drawings as they are set, by what they are drawn for: a letter may be set several times, and each is the same text again. */
const readyDrawings = new WeakMap<Element, { readonly faces: Faces; readonly source: string }>();

/** The drawing lettered and with plain sizes, once for all settings of its letter. */
function readyDrawing(
  setting: Setting,
  element: Element,
  size: { width: number; height: number },
): string | undefined {
  const faces = facesInUse();
  const ready = readyDrawings.get(element);
  if (ready?.faces === faces) return ready.source;
  const lettered = withLettering(setting, element, element.drawing ?? "");
  if (lettered === undefined) return undefined;
  const source = rooted(lettered, size);
  readyDrawings.set(element, { faces, source });
  return source;
}

/** The drawing with plain sizes and a viewBox in its root tag. */
function rooted(source: string, { width, height }: { width: number; height: number }): string {
  const end = source.indexOf(">");
  const given = source.slice("<svg".length, end).replace(/\s(?:width|height)\s*=\s*("[^"]*"|'[^']*')/g, "");
  const box = /\sviewBox\s*=/.test(given) ? "" : ` viewBox="0 0 ${width} ${height}"`;
  return `<svg width="${width}" height="${height}"${box}${given}${source.slice(end)}`;
}

export interface Room {
  readonly width: number;
  readonly height: number;
  /** How much the drawing may grow. */
  readonly grow: number;
}

/** Fewest dots an inch at which a photo still looks sharp on paper (common practice). */
const PHOTO_DPI = 150;

/** By photo, which several settings of a letter and several letters show. */
const encoded = new WeakMap<Uint8Array, string>();

function base64(bytes: Uint8Array): string {
  const known = encoded.get(bytes);
  if (known !== undefined) return known;
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("base64");
  encoded.set(bytes, text);
  return text;
}

/** A drawing or photo as the engine's node, its own block and Figure; undefined when it has been reported as a problem. */
export function setDrawing(setting: Setting, element: Element, room: Room): PdfNode | undefined {
  const { problems, letter } = setting;
  const { attributes } = element;
  const isOrnament =
    attributes["aria-hidden"] === "true" || (element.name === "img" && attributes.alt === "");
  const alt = attributes["aria-label"] ?? attributes.alt ?? "";
  const tag = isOrnament ? null : addTag(setting.tag, "Figure", { alt });
  const block = addBlock(setting, "whole", element);
  const content = { block, tag };
  let node: PdfNode;
  if (element.name === "svg") {
    const source = element.drawing ?? "";
    const size = sizeOfDrawing(source);
    if (!size) {
      problems.push(
        pageError("drawing-not-set", `a drawing has neither width and height nor a viewBox`, {
          line: element.line,
        }),
      );
      return undefined;
    }
    const ready = readyDrawing(setting, element, size);
    if (ready === undefined) return undefined;
    const factor = Math.min(room.grow, room.width / size.width, room.height / size.height);
    node = {
      svg: ready,
      font: BODY_FACE,
      fit: [size.width * factor, size.height * factor],
      content,
    };
  } else {
    const name = (attributes.src ?? "").replace(/^photo:/, "");
    const bytes = Object.hasOwn(letter.photos, name) ? letter.photos[name] : undefined;
    if (!bytes) {
      problems.push(
        pageError("photo-missing", `the photo "${name}" was not given to the letter`, {
          line: element.line,
          found: name,
        }),
      );
      return undefined;
    }
    const head = readImageHead(bytes);
    if (!head) {
      problems.push(
        pageError("photo-broken", `the photo "${name}" is not a readable JPEG or PNG`, {
          line: element.line,
          found: name,
        }),
      );
      return undefined;
    }
    // A photo is set no larger than its pixels allow, or than the template asks for.
    const natural = Number.parseFloat(attributes.width ?? "") || (head.widthPx * 72) / PHOTO_DPI;
    const factor = Math.min(natural / head.widthPx, room.width / head.widthPx, room.height / head.heightPx);
    node = {
      image: `data:image/${head.kind};base64,${base64(bytes)}`,
      fit: [head.widthPx * factor, head.heightPx * factor],
      content,
    };
  }
  node.margin = [0, 0, 0, 0];
  block.node = node;
  if (node.image !== undefined) block.photo = node;
  return node;
}

/** `figure`: the drawing with its caption below, kept together. */
export function setFigure(setting: Setting, element: Element): PdfNode {
  const isSmall = element.classes.includes("small");
  const { scale } = setting;
  const block = addBlock(setting, "whole", element);
  const room: Room = isSmall
    ? {
        width: Math.min(setting.width, scale.body.size * 6),
        height: scale.body.size * 6,
        grow: scale.drawings,
      }
    : {
        width: setting.width,
        height: setting.pageHeight * 0.62,
        grow: scale.drawings,
      };
  const inner: Setting = { ...setting, block };
  const stack: PdfNode[] = [];
  for (const child of childElements(element)) {
    if (child.name === "figcaption") {
      const caption = setParagraph(inner, child, child.children, {
        style: scale.small,
        color: PALETTE.quiet,
        type: "P",
      });
      if (caption) stack.push(withSpaceAbove(caption, scale.gap * 0.6));
    } else {
      const drawing = setDrawing(inner, child, room);
      if (drawing) stack.push(drawing);
      if (drawing?.svg !== undefined && !isSmall) block.drawing = drawing;
    }
  }
  block.node = { stack, margin: [0, 0, 0, 0] };
  return block.node;
}
