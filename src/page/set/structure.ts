/** The structure tree of the PDF as plain data: elements in reading order and, once drawn, the marked pieces of page under each. */

export interface Mark {
  readonly kind: "mark";
  /** The engine's reference to the page. */
  readonly page: unknown;
  readonly mcid: number;
}

/** A link annotation under a Link element. */
export interface AnnotationMark {
  readonly kind: "annotation";
  readonly page: unknown;
  readonly annotation: unknown;
  readonly parentKey: number;
}

export interface TagAttributes {
  readonly alt?: string;
  readonly lang?: string;
  /** What a reader should speak instead of the marked words. */
  readonly actualText?: string;
  readonly scope?: "Row" | "Column";
  readonly colSpan?: number;
  /** For a heading: its words, also its bookmark. */
  readonly title?: string;
  /** For a heading cell of a table with joined cells, and those that belong to a cell. */
  readonly id?: string;
  readonly headers?: readonly string[];
  /** For L: what its labels are. */
  readonly numbering?: "Disc" | "Decimal" | "None";
}

export interface Tag {
  readonly kind: "tag";
  /** A standard structure type of ISO 32000-1, such as P or TD. */
  readonly type: string;
  readonly attributes: TagAttributes;
  readonly kids: (Tag | Mark | AnnotationMark)[];
  readonly parent: Tag | null;
  /** For a Figure: where it was drawn, in points from the bottom left of its page. */
  bounds?: readonly number[];
  /** Inline elements join their parent when first drawn, so that they fall between the right words. */
  joined: boolean;
}

/** A block element, last child of `parent` so far. */
export function addTag(parent: Tag | null, type: string, attributes: TagAttributes = {}): Tag {
  const tag: Tag = {
    kind: "tag",
    type,
    attributes,
    kids: [],
    parent,
    joined: true,
  };
  parent?.kids.push(tag);
  return tag;
}

/** An inline element of `parent`; it takes its place when it is drawn. */
export function inlineTag(parent: Tag, type: string, attributes: TagAttributes = {}): Tag {
  return { kind: "tag", type, attributes, kids: [], parent, joined: false };
}

function join(tag: Tag): void {
  if (tag.joined || !tag.parent) return;
  join(tag.parent);
  tag.parent.kids.push(tag);
  tag.joined = true;
}

/** Adds a drawn piece under `tag`. */
export function addMark(tag: Tag, mark: Mark | AnnotationMark): void {
  join(tag);
  tag.kids.push(mark);
}

/** The Link that `tag` is or stands in. */
export function linkAround(tag: Tag | null | undefined): Tag | undefined {
  for (let around = tag; around; around = around.parent) if (around.type === "Link") return around;
  return undefined;
}

const KEPT_WHEN_EMPTY: ReadonlySet<string> = new Set(["Document", "TR", "TH", "TD", "Table"]);

/** True when `tag` holds anything drawn, or is needed to keep a table regular. */
export function isWorthKeeping(tag: Tag): boolean {
  return KEPT_WHEN_EMPTY.has(tag.type) || tag.kids.some((kid) => kid.kind !== "tag" || isWorthKeeping(kid));
}
