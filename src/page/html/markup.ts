/** Letter HTML -> a checked tree of elements and words. Everything outside the vocabulary is a problem with its line. */
import { Parser } from "htmlparser2";
import { nearestWords } from "../../base/nearest.js";
import { hasError, type Outcome, type Problem } from "../../base/problem.js";
import { type PageProblemId, pageError } from "../problems.js";
import { linkAddresses } from "./links.js";
import { type PlainDrawing, placeInWhole, plainDrawings, withoutInsides } from "./plain-drawing.js";
import type { Element, Node } from "./tree.js";
import {
  CLASS_NEEDED,
  COMMON_ATTRIBUTES,
  DRAWING_ELEMENTS,
  ELEMENTS,
  type ElementKind,
} from "./vocabulary.js";

export type { Element, Node } from "./tree.js";

const ROOT = "letter";

/** Collapses runs of white space as HTML does; no-break spaces stay. */
function collapse(text: string): string {
  return text.replace(/[ \t\r\n\f]+/g, " ");
}

/** Names an element the way a template author wrote it, such as `p.subject`. */
export function nameOf(element: Element): string {
  return [element.name, ...element.classes].join(".");
}

class Reader {
  readonly problems: Problem[] = [];
  readonly root: Element = {
    kind: "element",
    name: ROOT,
    classes: [],
    attributes: {},
    children: [],
    line: 1,
  };
  private readonly open: Element[] = [this.root];
  private drawingStart = -1;
  private drawingDepth = 0;
  private readonly lineStarts: number[] = [0];
  private readonly parser: Parser;
  /** Of `plain`, those the parser has met as drawings. */
  private met = 0;

  /** `plain`: drawings of `html` that were looked through already; the parser is not given what is inside them. */
  constructor(
    private readonly html: string,
    private readonly plain: readonly PlainDrawing[],
  ) {
    for (let at = html.indexOf("\n"); at >= 0; at = html.indexOf("\n", at + 1)) this.lineStarts.push(at + 1);
    this.parser = new Parser(
      {
        onopentag: (name, attributes) => this.onOpen(name, attributes),
        ontext: (text) => this.onText(text),
        onclosetag: (name, implied) => this.onClose(name, implied),
        onprocessinginstruction: () =>
          this.report("unknown-element", "a processing instruction", "is not set"),
      },
      { lowerCaseAttributeNames: true, recognizeSelfClosing: true },
    );
  }

  /** False when the parser saw something else where a plain drawing was thought to stand, such as a comment around it. */
  read(): boolean {
    this.parser.end(withoutInsides(this.html, this.plain));
    return this.met === this.plain.length;
  }

  /** Where the parser's `index` lies in the HTML. */
  private placeOf(index: number): number {
    return placeInWhole(index, this.plain);
  }

  private line(): number {
    const at = this.placeOf(this.parser.startIndex);
    let low = 0;
    let high = this.lineStarts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.lineStarts[middle] ?? 0) <= at) low = middle;
      else high = middle - 1;
    }
    return low + 1;
  }

  private report(id: PageProblemId, found: string, said: string, suggestion?: string): void {
    const line = this.line();
    this.problems.push(
      pageError(id, `${found} ${said}`, {
        found,
        ...(suggestion === undefined ? {} : { suggestion }),
        line,
      }),
    );
  }

  private get parent(): Element {
    return this.open[this.open.length - 1] ?? this.root;
  }

  private onOpen(name: string, attributes: Record<string, string>): void {
    if (this.drawingDepth > 0) {
      this.drawingDepth += 1;
      this.checkDrawingPart(name, attributes);
      return;
    }
    const classes = (attributes.class ?? "").split(/\s+/).filter((word) => word !== "");
    const element: Element = {
      kind: "element",
      name,
      classes,
      attributes,
      children: [],
      line: this.line(),
    };
    const kind = Object.hasOwn(ELEMENTS, name) ? ELEMENTS[name] : undefined;
    if (!kind) {
      this.report(
        "unknown-element",
        `<${name}>`,
        "is not an element of the page",
        nearestWords(name, Object.keys(ELEMENTS))[0],
      );
    } else {
      this.checkPlace(element, kind);
      this.checkAttributes(element, kind);
    }
    this.parent.children.push(element);
    this.open.push(element);
    if (name === "svg") {
      this.drawingStart = this.placeOf(this.parser.startIndex);
      this.drawingDepth = 1;
      const plain = this.plain[this.met];
      // The same tag from end to end: what follows it is then read as a drawing and nothing else.
      if (plain?.start === this.drawingStart && plain.from === this.placeOf(this.parser.endIndex) + 1)
        this.met += 1;
      this.checkDrawingPart(name, attributes);
      const decorative = attributes["aria-hidden"] === "true";
      if (!decorative && !attributes["aria-label"]?.trim()) {
        this.report("figure-without-alternative", "<svg>", "has no aria-label");
      }
    }
    if (name === "img" && attributes.alt === undefined) {
      this.report("figure-without-alternative", "<img>", "has no alt");
    }
  }

  private onText(text: string): void {
    if (this.drawingDepth > 0) return;
    const parent = this.parent;
    const kind = ELEMENTS[parent.name];
    const takesWords = kind?.holds === "inline" || (kind?.holds === "blocks" && parent.name !== "div");
    if (!takesWords || ["section", "aside"].includes(parent.name)) {
      if (text.trim() !== "") this.report("misplaced-element", "words", `stand directly in <${parent.name}>`);
      return;
    }
    const last = parent.children[parent.children.length - 1];
    const joined = collapse((last?.kind === "words" ? last.text : "") + text);
    if (last?.kind === "words")
      parent.children[parent.children.length - 1] = {
        kind: "words",
        text: joined,
      };
    else parent.children.push({ kind: "words", text: joined });
  }

  private onClose(name: string, implied: boolean): void {
    if (this.drawingDepth > 0) {
      this.drawingDepth -= 1;
      if (this.drawingDepth > 0) return;
      this.parent.drawing = this.html.slice(this.drawingStart, this.placeOf(this.parser.endIndex) + 1);
    }
    if (implied && ELEMENTS[name]?.holds !== "nothing") {
      this.report("unclosed-element", `<${name}>`, "is never closed");
    }
    if (this.open.length > 1 && this.parent.name === name) this.open.pop();
  }

  private checkPlace(element: Element, kind: ElementKind): void {
    const parent = this.parent;
    const holds = parent === this.root ? "blocks" : (ELEMENTS[parent.name]?.holds ?? "blocks");
    const named = Array.isArray(holds);
    const fits = named
      ? holds.includes(element.name)
      : kind.onlyIn
        ? kind.onlyIn.includes(parent.name)
        : holds === "inline"
          ? kind.isInline === true
          : holds === "blocks" && (kind.isInline !== true || ["li", "td", "th", "dd"].includes(parent.name));
    if (!fits) {
      const where = parent === this.root ? "at the top of the letter" : `in <${nameOf(parent)}>`;
      this.report("misplaced-element", `<${nameOf(element)}>`, `may not stand ${where}`);
    }
  }

  private checkAttributes(element: Element, kind: ElementKind): void {
    const { name, classes, attributes } = element;
    const known = kind.classes ?? [];
    for (const word of classes) {
      if (name !== "svg" && !known.includes(word)) {
        this.report(
          "unknown-class",
          `class "${word}"`,
          `is not known on <${name}>`,
          nearestWords(word, known)[0],
        );
      }
    }
    if (CLASS_NEEDED.includes(name) && classes.length === 0) {
      this.report("unknown-class", `<${name}>`, `needs one of the classes ${known.join(", ")}`);
    }
    if (name === "svg") return;
    const allowed = [...COMMON_ATTRIBUTES, ...(kind.attributes ?? [])];
    for (const attribute of Object.keys(attributes)) {
      if (!allowed.includes(attribute)) {
        this.report(
          "unknown-attribute",
          `attribute "${attribute}"`,
          `is not known on <${name}>`,
          nearestWords(attribute, allowed)[0],
        );
      }
    }
    const wrong =
      (attributes.scope !== undefined && !["row", "col"].includes(attributes.scope) && "scope") ||
      (attributes.src !== undefined && !attributes.src.startsWith("photo:") && "src") ||
      (attributes.href !== undefined && !/^(https?:|mailto:|tel:)/.test(attributes.href) && "href") ||
      (attributes.colspan !== undefined && !/^[1-9]\d?$/.test(attributes.colspan) && "colspan") ||
      (attributes["data-widths"] !== undefined &&
        !/^(\d+(\.\d+)?|\*)(\s+(\d+(\.\d+)?|\*))*$/.test(attributes["data-widths"].trim()) &&
        "data-widths");
    if (wrong)
      this.report("unknown-attribute", `attribute "${wrong}" of <${name}>`, "has a value that cannot be set");
  }

  private checkDrawingPart(name: string, attributes: Record<string, string>): void {
    if (!DRAWING_ELEMENTS.has(name.toLowerCase())) {
      this.report("drawing-not-set", `<${name}>`, "is not allowed inside a drawing");
    }
    for (const [attribute, value] of Object.entries(attributes)) {
      const reachesOut = /^(xlink:)?href$/.test(attribute) && !value.startsWith("#");
      const outside = /url\(\s*['"]?(?!#)/.test(value) || value.includes("var(");
      if (reachesOut || outside || attribute.startsWith("on")) {
        this.report("drawing-not-set", `attribute "${attribute}"`, "is not allowed inside a drawing");
      }
    }
  }
}

/** Reads letter HTML; all problems at once, in order. The value is absent when any of them is an error. */
export function readMarkup(html: string): Outcome<Element> {
  const { root, problems } = readLeniently(html);
  return hasError(problems) ? { problems } : { value: root, problems };
}

/** The tree as far as it can be read, for text and HTML, which can leave out what they do not know. */
export function readLeniently(html: string): {
  root: Element;
  problems: Problem[];
} {
  let reader = new Reader(html, plainDrawings(html));
  if (!reader.read()) {
    reader = new Reader(html, []);
    reader.read();
  }
  linkAddresses(reader.root);
  return { root: reader.root, problems: reader.problems };
}

/** The words of a node and all below it, without marks. */
export function plainText(node: Node): string {
  if (node.kind === "words") return node.text;
  if (node.name === "br") return "\n";
  return node.children.map(plainText).join("");
}

/** The child elements, in order. */
export function childElements(element: Element): Element[] {
  return element.children.filter((node): node is Element => node.kind === "element");
}

/**
 * Levels for the headings of a letter as a reader's outline needs them: beginning at 1 and never skipping one on the way
 * down, whatever sizes the template chose. The first is the document's title: without an h1, the subject line.
 */
export function headingLevels(root: Element): Map<Element, number> {
  const headings: Element[] = [];
  const collect = (element: Element) => {
    if (/^h[1-3]$/.test(element.name)) headings.push(element);
    for (const child of childElements(element)) collect(child);
  };
  collect(root);
  const subject = childElements(root).find((child) => child.classes.includes("subject"));
  if (subject && !headings.some((heading) => heading.name === "h1")) headings.unshift(subject);
  const levels = new Map<Element, number>();
  const open: number[] = [];
  for (const heading of headings) {
    const size = heading === subject ? 1 : Number(heading.name.slice(1));
    while ((open[open.length - 1] ?? 0) >= size) open.pop();
    open.push(size);
    levels.set(heading, open.length);
  }
  return levels;
}
