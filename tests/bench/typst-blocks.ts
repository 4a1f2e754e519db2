/** The elements of a letter -> Typst source of the same words, tables, boxes, drawings and photos. */
import type { Letter } from "../../src/letter/document.js";
import { readImageHead } from "../../src/page/drawing/image-size.js";
import { childElements, type Element, type Node } from "../../src/page/html/markup.js";
import { ELEMENTS } from "../../src/page/html/vocabulary.js";
import { cleanText } from "../../src/page/type/characters.js";
import { SCALES, type Scale, type Style } from "../../src/page/type/scale.js";

const PHOTO_DPI = 220;

/** A Typst string. */
export function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, "\\$&").replace(/\n/g, "\\n")}"`;
}

/** A style as the template takes it. */
export function styled({ size, leading, bold }: Style): string {
  return `(size: ${size}pt, leading: ${leading}pt, weight: ${bold ? 600 : 400})`;
}

function isInline(node: Node): boolean {
  return node.kind === "words" || ELEMENTS[node.name]?.isInline === true;
}

/** Columns as parts of the width; `*` takes what is left of a hundred. */
function columns(shares: string | undefined, count: number): string {
  const given = shares?.trim().split(/\s+/) ?? [];
  if (given.length !== count) return `(${"auto, ".repeat(Math.max(0, count - 1))}1fr,)`;
  const taken = given.reduce((sum, share) => sum + (Number(share) || 0), 0);
  const rest = Math.max(5, 100 - taken) / Math.max(1, given.filter((share) => share === "*").length);
  return `(${given.map((share) => `${share === "*" ? rest : Number(share)}fr`).join(", ")},)`;
}

export class TypstWriter {
  readonly files = new Map<string, Uint8Array>();
  readonly scale: Scale;

  constructor(
    readonly letter: Letter,
    private readonly levels: ReadonlyMap<Element, number>,
    private readonly folder: string,
  ) {
    this.scale = SCALES[letter.typeSize];
  }

  /** Words and what stands among them; a new line begins without a space. */
  private inline(nodes: readonly Node[]): string {
    const isBreak = (node: Node | undefined) => node?.kind === "element" && node.name === "br";
    return nodes
      .map((node, i) =>
        node.kind === "words" && isBreak(nodes[i - 1]) ? { ...node, text: node.text.trimStart() } : node,
      )
      .map((node) => this.inlineOne(node))
      .join("");
  }

  private inlineOne(node: Node): string {
    if (node.kind === "words") return node.text === "" ? "" : `#${quoted(cleanText(node.text))}`;
    const inner = this.inline(node.children);
    const { href, lang } = node.attributes;
    switch (node.name) {
      case "br":
        return "#linebreak()";
      case "strong":
        return `#strong[${inner}]`;
      case "em":
        return `#emph[${inner}]`;
      case "small":
        return `#text(size: ${this.scale.small.size}pt, fill: quiet)[${inner}]`;
      case "a":
        return `#link(${quoted(href ?? "")})[${inner}]`;
      case "span":
        return lang ? `#text(lang: ${quoted(lang.split("-")[0] ?? lang)})[${inner}]` : inner;
      default:
        throw new Error(`<${node.name}> does not stand among words`);
    }
  }

  /** Words without space at either end. */
  paragraph(nodes: readonly Node[]): string {
    const first = nodes.findIndex((node) => node.kind !== "words" || node.text.trim() !== "");
    if (first < 0) return "";
    const last = nodes.findLastIndex((node) => node.kind !== "words" || node.text.trim() !== "");
    const trimmed = nodes.slice(first, last + 1).map((node, i, all): Node => {
      if (node.kind !== "words") return node;
      const text = i === 0 ? node.text.trimStart() : node.text;
      return { ...node, text: i === all.length - 1 ? text.trimEnd() : text };
    });
    return this.inline(trimmed);
  }

  /** Blocks one below the other, with words between them as paragraphs. */
  flow(nodes: readonly Node[]): string {
    const parts: string[] = [];
    let words: Node[] = [];
    const flush = () => {
      parts.push(this.paragraph(words));
      words = [];
    };
    for (const node of nodes) {
      if (isInline(node)) words.push(node);
      else {
        flush();
        parts.push(this.block(node as Element));
      }
    }
    flush();
    return parts.filter((part) => part !== "").join("\n\n");
  }

  block(element: Element): string {
    const { name, classes, children, attributes } = element;
    const inside = () => this.flow(children);
    switch (name) {
      case "h1":
      case "h2":
      case "h3":
        return `#heading(level: ${Math.max(this.levels.get(element) ?? 1, Number(name[1]))})[${this.paragraph(children)}]`;
      case "p":
        return this.text(element);
      case "ul":
        if (classes.includes("pictured")) return this.pictured(element);
        return `#list(${this.contents(childElements(element))})`;
      case "ol":
        return `#enum(start: ${Number(attributes.start ?? 1)}, ${this.contents(childElements(element))})`;
      case "dl":
        return `#definitions(${this.definitions(element)})`;
      case "table":
        return this.table(element);
      case "hr":
        return "#line(length: 100%, stroke: hairline)";
      case "figure":
        return `#keep[${inside()}]`;
      case "figcaption":
        return `#sized(${styled(this.scale.small)}, quiet)[${this.paragraph(children)}]`;
      case "svg":
      case "img":
        return this.picture(element);
      case "div": {
        const parts = childElements(element);
        const shares = attributes["data-widths"] ?? parts.map(() => "*").join(" ");
        return `#beside(${columns(shares, parts.length)}, ${this.contents(parts.map((part) => ({ ...element, children: [part] })))})`;
      }
      case "aside": {
        const box = classes.includes("summary")
          ? "summary"
          : classes.includes("caution")
            ? "caution"
            : "clinician";
        return `#${box}[${inside()}]`;
      }
      case "section":
        return `#keep[${classes.includes("signature") ? inside().replace("\n\n", `\n\n#v(${this.scale.body.leading * 1.3}pt)\n\n`) : inside()}]`;
      case "header":
        return childElements(element)
          .map((child) => this.block(child))
          .join("\n\n");
      case "address":
        return this.paragraph(children);
      default:
        throw new Error(`<${name}> does not stand among blocks`);
    }
  }

  private text(element: Element): string {
    const words = this.paragraph(element.children);
    const { small, subject, letterhead } = this.scale;
    if (element.classes.includes("small")) return `#sized(${styled(small)}, quiet)[${words}]`;
    if (element.classes.includes("subject")) return `#sized(${styled(subject)}, ink)[${words}]`;
    if (element.classes.includes("reference")) return `#sized(${styled(letterhead)}, ink)[${words}]`;
    return words;
  }

  private contents(elements: readonly Element[]): string {
    return elements.map((element) => `[${this.flow(element.children)}]`).join(", ");
  }

  private pictured(element: Element): string {
    const cells = childElements(element).flatMap((item) => {
      const picture = childElements(item).find((child) => child.name === "svg" || child.name === "img");
      const rest = item.children.filter((child) => child !== picture);
      return [`[${picture ? this.picture(picture) : ""}]`, `[${this.flow(rest)}]`];
    });
    return `#pictured(${cells.join(", ")})`;
  }

  private definitions(element: Element): string {
    return childElements(element)
      .map((child) =>
        child.name === "dt" ? `strong[${this.paragraph(child.children)}]` : `[${this.flow(child.children)}]`,
      )
      .join(", ");
  }

  private table(element: Element): string {
    const parts = childElements(element);
    const caption = parts.find((part) => part.name === "caption");
    const rows = (name: string) => parts.filter((part) => part.name === name).flatMap(childElements);
    const head = rows("thead");
    const body = rows("tbody");
    const span = (cell: Element) => Number(cell.attributes.colspan ?? 1);
    const widest = (row: Element) => childElements(row).reduce((sum, cell) => sum + span(cell), 0);
    const count = Math.max(0, ...[...head, ...body].map(widest));
    const isPlain = element.classes.includes("reference");
    const cell = (one: Element, isHead: boolean) => {
      const align = one.classes.includes("number") ? "right" : "left";
      const words = this.flow(one.children);
      const set =
        isPlain && one.name === "th"
          ? `#text(fill: quiet)[${words}]`
          : one.name === "th"
            ? `#strong[${words}]`
            : words;
      return `table.cell(colspan: ${span(one)}, align: ${align})[${isHead ? `#text(fill: quiet)[${set}]` : set}]`;
    };
    const cells = (row: Element, isHead: boolean) => childElements(row).map((one) => cell(one, isHead));
    const rule = (stroke: string) => (isPlain ? [] : [`table.hline(stroke: ${stroke})`]);
    const lines = [
      `columns: ${columns(element.attributes["data-widths"], count)}`,
      `column-gutter: ${this.scale.gap * 2}pt`,
      ...(head.length > 0
        ? [`table.header(${head.flatMap((row) => cells(row, true)).join(", ")})`, ...rule("0.9pt + accent")]
        : []),
      ...body.flatMap((row) => [...cells(row, false), ...rule("hairline")]),
    ];
    const inset = isPlain ? "inset: (x: 0pt, y: 1.5pt), " : "";
    return `${caption ? `#strong[${this.paragraph(caption.children)}]\n\n` : ""}#table(${inset}${lines.join(",\n")})`;
  }

  private picture(element: Element): string {
    const { attributes, drawing } = element;
    const words = quoted(cleanText(attributes["aria-label"] ?? attributes.alt ?? ""));
    if (element.name === "svg" && drawing) {
      const head = /^<svg[^>]*>/.exec(drawing)?.[0] ?? "";
      const box = /viewBox\s*=\s*["']\s*[-\d.]+[\s,]+[-\d.]+[\s,]+([\d.]+)[\s,]+([\d.]+)/.exec(head);
      const size = (name: string, part: number) =>
        Number.parseFloat(
          new RegExp(`\\s${name}\\s*=\\s*["']([\\d.]+)`).exec(head)?.[1] ?? box?.[part] ?? "100",
        );
      return `#picture(bytes(${quoted(drawing)}), "svg", ${size("width", 1)}pt, ${size("height", 2)}pt, ${this.scale.drawings}, ${words})`;
    }
    const name = (attributes.src ?? "").replace(/^photo:/, "");
    const bytes = this.letter.photos[name];
    const size = bytes && readImageHead(bytes);
    if (!bytes || !size) throw new Error(`the photo ${name} is not there`);
    const path = `${this.folder}/${name}`;
    this.files.set(path, bytes);
    const width = Number.parseFloat(attributes.width ?? "") || (size.widthPx * 72) / PHOTO_DPI;
    const height = (width * size.heightPx) / size.widthPx;
    const format = size.kind === "png" ? "png" : "jpg";
    return `#picture(read(${quoted(path)}, encoding: none), "${format}", ${width}pt, ${height}pt, 1, ${words})`;
  }
}
