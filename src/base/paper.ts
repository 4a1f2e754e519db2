/** Paper sizes, the one list of them: clinic file, command line, worklist, typesetting and print run read it. */

interface Sheet {
  readonly widthMm: number;
  readonly heightMm: number;
  /** As style sheets name it. */
  readonly css: string;
  /** Other words a clinic file may use. */
  readonly also: readonly string[];
}

export const SHEETS = {
  A4: { widthMm: 210, heightMm: 297, css: "A4", also: [] },
  Letter: { widthMm: 215.9, heightMm: 279.4, css: "letter", also: ["US Letter"] },
} as const satisfies Readonly<Record<string, Sheet>>;

export type Paper = keyof typeof SHEETS;

export const PAPERS = Object.keys(SHEETS) as [Paper, ...Paper[]];

/** The size of that name, whatever its case. */
export function paperNamed(word: string): Paper | undefined {
  return PAPERS.find((paper) => paper.toLowerCase() === word.toLowerCase());
}
