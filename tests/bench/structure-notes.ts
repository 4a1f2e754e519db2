/** The structure of a traced letter: which marked piece of page stands under which element, as plain numbers. */
import type { Content, LaidPage } from "../../src/page/set/content.js";
import { isWorthKeeping, type Tag } from "../../src/page/set/structure.js";
import type { StructureNode } from "./calls.js";

function isInHeaderRow(content: Content): boolean {
  for (let block: Content["block"] | null = content.block; block; block = block.parent)
    if (block.repeats) return true;
  return false;
}

export class StructureNotes {
  private readonly numbers = new Map<Tag, number>();
  private readonly marks = new Map<Tag, number[]>();
  private readonly firstDrawn = new Map<Content, LaidPage>();
  private marksMade = 0;

  /** The element of something drawn; null for what is drawn again or belongs to none. */
  tagToDraw(content: Content | undefined, page: LaidPage): Tag | null {
    if (!content?.tag) return null;
    if (isInHeaderRow(content)) {
      const first = this.firstDrawn.get(content) ?? page;
      this.firstDrawn.set(content, first);
      if (first !== page) return null;
    }
    return content.tag;
  }

  numberOf(tag: Tag): number {
    const number = this.numbers.get(tag) ?? this.numbers.size;
    this.numbers.set(tag, number);
    return number;
  }

  /** A piece of page under `tag`; gives the element's number. */
  mark(tag: Tag): number {
    this.marks.set(tag, [...(this.marks.get(tag) ?? []), this.marksMade]);
    this.marksMade += 1;
    return this.numberOf(tag);
  }

  /** The tree above everything marked so far. */
  root(): StructureNode {
    let top = [...this.marks.keys()][0];
    while (top?.parent) top = top.parent;
    if (!top) throw new Error("nothing on the pages is tagged");
    return this.node(top);
  }

  /** The product has put inline elements between the pieces of their parents; ours take the same places. */
  private node(tag: Tag): StructureNode {
    const own = [...(this.marks.get(tag) ?? [])];
    const kids = tag.kids.flatMap((kid): (StructureNode | number)[] => {
      if (kid.kind === "tag") return isWorthKeeping(kid) ? [this.node(kid)] : [];
      const next = kid.kind === "mark" ? own.shift() : undefined;
      return next === undefined ? [] : [next];
    });
    return {
      number: this.numberOf(tag),
      type: tag.type,
      attributes: tag.attributes,
      kids: [...kids, ...own],
    };
  }
}
