/** The tree of a letter's HTML: elements and words. */

export interface Words {
  readonly kind: "words";
  readonly text: string;
}

export interface Element {
  readonly kind: "element";
  readonly name: string;
  readonly classes: readonly string[];
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  /** Line in the letter's HTML, from 1. */
  readonly line: number;
  /** For svg: its source. */
  drawing?: string;
}

export type Node = Words | Element;
