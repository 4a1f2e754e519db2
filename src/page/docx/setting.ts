/** What the parts of an office document share while a letter is set. */
import type { IParagraphOptions, Paragraph, Table } from "docx";
import type { Letter } from "../../letter/document.js";
import type { Element } from "../html/markup.js";
import type { Scale } from "../type/scale.js";

export type Block = Paragraph | Table;

export interface DocxSetting {
  readonly letter: Letter;
  readonly scale: Scale;
  /** Numbered lists so far: each starts again from 1. */
  readonly lists: { count: number };
  /** Each drawing as pixels. */
  readonly pixels: ReadonlyMap<string, Uint8Array>;
  /** The blocks below an element. */
  fill(parent: Element, around: Around): Block[];
}

/** Where a block stands. */
export interface Around {
  readonly widthPt: number;
  readonly isTable?: boolean;
  readonly keepNext?: boolean;
  /** The list that the first paragraph of an item opens. */
  readonly item?: Exclude<IParagraphOptions["numbering"], false | undefined> | undefined;
  readonly level?: number;
}
