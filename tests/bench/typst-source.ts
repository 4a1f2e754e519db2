/** A finished letter -> Typst source that sets the same words, tables, boxes, drawings and photos, for comparing typesetters. */
import type { Letter } from "../../src/letter/document.js";
import { cleanText } from "../../src/page/characters.js";
import { readImageHead } from "../../src/page/image-size.js";
import { childElements, type Element, headingLevels, type Node, readMarkup } from "../../src/page/markup.js";
import { MARGIN_MM, SHEETS, WINDOWS } from "../../src/page/paper.js";
import { SCALES, type Scale, type Style } from "../../src/page/scale.js";
import { ELEMENTS } from "../../src/page/vocabulary.js";
import { TEMPLATE_PATH } from "./typst-template.js";

export interface TypstLetter {
  readonly source: string;
  /** Photos by the path that the source uses. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

const PHOTO_DPI = 220;

function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, "\\$&").replace(/\n/g, "\\n")}"`;
}

function styled({ size, leading, bold }: Style): string {
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

class Writer {
  readonly files = new Map<string, Uint8Array>();
  private readonly scale: Scale;

  constructor(
    private readonly letter: Letter,
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

  private paragraph(nodes: readonly Node[]): string {
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

  private block(element: Element): string {
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

  /** Letterhead and references at the top, the address where the envelope's window is. */
  head(elements: readonly Element[]): string {
    if (elements.length === 0) return "";
    const { clinic, letterhead } = this.scale;
    const place = this.letter.addressWindow === "none" ? undefined : WINDOWS[this.letter.addressWindow];
    const left: string[] = [];
    const right: string[] = [];
    const below: string[] = [];
    for (const element of elements) {
      if (element.name === "header") {
        const [name, ...contact] = childElements(element).filter((child) => child.name === "p");
        left.push(
          ...childElements(element)
            .filter((child) => child.name !== "p")
            .map((logo) => this.block(logo)),
        );
        if (name) left.push(`#sized(${styled(clinic)}, accent)[${this.paragraph(name.children)}]`);
        for (const one of contact)
          right.push(`#sized(${styled(letterhead)}, quiet)[${this.paragraph(one.children)}]`);
      } else if (element.name === "address") {
        const address = `#sized(${styled(this.scale.address)}, ink)[${this.block(element)}]`;
        if (!place) below.push(address);
        else
          below.push(
            `#window(${place.leftMm - MARGIN_MM.left}mm, ${place.topMm - MARGIN_MM.top}mm, ${place.widthMm}mm)[${address}]`,
          );
      } else right.push(`#sized(${styled(letterhead)}, ink)[${this.block(element)}]`);
    }
    const height = place ? `${place.bodyTopMm - MARGIN_MM.top}mm` : "auto";
    const columns = `#head(${height})[${left.join("\n\n")}][${right.join("\n\n")}]`;
    return [columns, ...(place ? [] : ["#line(length: 100%, stroke: hairline)"]), ...below].join("\n\n");
  }
}

function isHead(element: Element): boolean {
  return element.name === "header" || element.name === "address" || element.classes.includes("reference");
}

/** `folder` keeps the photos of one letter apart from those of others. Throws when the letter's HTML cannot be set. */
export function typstSource(letter: Letter, folder = ""): TypstLetter {
  const { value: root, problems } = readMarkup(letter.html);
  if (!root) throw new Error(`not read: ${problems.map((p) => p.id).join(", ")}`);
  const writer = new Writer(letter, headingLevels(root), folder);
  const children = childElements(root);
  const head = writer.head(children.filter(isHead));
  const body = writer.flow(children.filter((child) => !isHead(child)));
  const sheet = SHEETS[letter.paper];
  const { body: text, h1, h2, h3, table, foot, gap, drawings } = SCALES[letter.typeSize];
  const styles = Object.entries({ body: text, h1, h2, h3, table, foot }).map(
    ([name, style]) => `${name}: ${styled(style)}`,
  );
  const [lang, region] = letter.language.split("-");
  const [year, month, day] = letter.date.split("-").map(Number);
  const source = `#import ${quoted(TEMPLATE_PATH)}: *
#show: letter.with(
  sheet: (width: ${sheet.widthMm}mm, height: ${sheet.heightMm}mm, margin: (left: ${MARGIN_MM.left}mm, right: ${MARGIN_MM.right}mm, top: ${MARGIN_MM.top}mm, bottom: ${MARGIN_MM.bottom + MARGIN_MM.footGap + (foot.leading * 2 * 25.4) / 72}mm)),
  scale: (${styles.join(", ")}, gap: ${gap}pt, drawings: ${drawings}),
  title: ${quoted(cleanText(letter.title))},
  lang: ${quoted(lang ?? "en")},
  region: ${region ? quoted(region) : "none"},
  date: datetime(year: ${year}, month: ${month}, day: ${day}),
  foot: (identifiers: ${quoted(cleanText(letter.identifiers))}, confidentiality: ${quoted(cleanText(letter.confidentiality))}, page: ${quoted(letter.pageWords)}),
  draft: ${letter.draftMark === null ? "none" : quoted(cleanText(letter.draftMark))},
)
${head}

${body}
`;
  return { source, files: writer.files };
}
