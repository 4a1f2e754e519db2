/** The HTML that templates may use: one row an element. templates/README.md shows each with an example; a test keeps the two alike. */

/** blocks: paragraphs, tables and the like. inline: words. Other names: exactly those children. */
export type Holds = "blocks" | "inline" | "nothing" | "drawing" | readonly string[];

export interface ElementKind {
  readonly holds: Holds;
  readonly classes?: readonly string[];
  readonly attributes?: readonly string[];
  /** True when it may stand among words; otherwise it stands among blocks, or only in the parents that name it. */
  readonly isInline?: boolean;
  readonly onlyIn?: readonly string[];
}

const WORDS: ElementKind = { holds: "inline", isInline: true };

export const ELEMENTS: Readonly<Record<string, ElementKind>> = {
  h1: { holds: "inline" },
  h2: { holds: "inline" },
  h3: { holds: "inline" },
  p: { holds: "inline", classes: ["reference", "subject", "small"] },
  ul: { holds: ["li"], classes: ["pictured"] },
  ol: { holds: ["li"], attributes: ["start"] },
  li: { holds: "blocks", onlyIn: ["ul", "ol"] },
  dl: { holds: ["dt", "dd"] },
  dt: { holds: "inline", onlyIn: ["dl"] },
  dd: { holds: "blocks", onlyIn: ["dl"] },
  table: {
    holds: ["caption", "thead", "tbody"],
    classes: ["reference"],
    attributes: ["data-widths"],
  },
  caption: { holds: "inline", onlyIn: ["table"] },
  thead: { holds: ["tr"], onlyIn: ["table"] },
  tbody: { holds: ["tr"], onlyIn: ["table"] },
  tr: { holds: ["th", "td"], onlyIn: ["thead", "tbody"] },
  th: {
    holds: "blocks",
    attributes: ["scope", "colspan"],
    onlyIn: ["tr"],
    classes: ["number", "plain"],
  },
  td: {
    holds: "blocks",
    attributes: ["colspan"],
    onlyIn: ["tr"],
    classes: ["number"],
  },
  strong: WORDS,
  em: WORDS,
  small: WORDS,
  span: { ...WORDS, attributes: ["lang"] },
  a: { ...WORDS, attributes: ["href"] },
  br: { holds: "nothing", isInline: true },
  hr: { holds: "nothing" },
  figure: { holds: ["svg", "img", "figcaption"], classes: ["small"] },
  figcaption: { holds: "inline", onlyIn: ["figure"] },
  svg: { holds: "drawing", onlyIn: ["figure", "header", "li"] },
  img: {
    holds: "nothing",
    attributes: ["src", "alt", "width"],
    onlyIn: ["figure", "header", "li"],
  },
  div: { holds: "blocks", classes: ["beside"], attributes: ["data-widths"] },
  aside: { holds: "blocks", classes: ["summary", "caution", "clinician-only"] },
  section: { holds: "blocks", classes: ["keep", "signature", "sheet"] },
  header: { holds: ["svg", "img", "p"], classes: ["letterhead"] },
  address: { holds: "inline", classes: ["window"] },
};

/** Elements that mean nothing without one of their classes. */
export const CLASS_NEEDED: readonly string[] = ["div", "aside", "section", "header", "address"];

/** Attributes any element may carry. */
export const COMMON_ATTRIBUTES: readonly string[] = ["class", "lang"];

export const DRAWING_ELEMENTS: ReadonlySet<string> = new Set(
  (
    "svg g defs symbol use path rect circle ellipse line polyline polygon text tspan title desc " +
    "pattern mask clippath marker lineargradient radialgradient stop"
  ).split(" "),
);
