/** Reads a PDF back: words with their places, lines, structure tree. Distances in millimetres from the top left corner. */

import type { Letter } from "../../src/letter/document.js";
import { type RenderedPdf, renderPdf } from "../../src/page/pdf.js";
import { getDocument, OPS } from "./pdfjs.js";
import { HANDOUT } from "./sample-letter.js";

export interface PlacedText {
  readonly text: string;
  readonly leftMm: number;
  /** Baseline. */
  readonly baseMm: number;
  readonly size: number;
}

export interface ReadPage {
  readonly items: readonly PlacedText[];
  /** Words of the page with single spaces. */
  readonly text: string;
  /** Lines and areas drawn. */
  readonly drawn: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly structure: StructureNode | null;
}

export interface StructureNode {
  readonly role?: string;
  readonly alt?: string;
  readonly lang?: string;
  readonly type?: string;
  readonly id?: string;
  readonly children?: readonly StructureNode[];
}

const MM = 25.4 / 72;

/** Renders a letter and fails with its problems when it cannot be rendered. */
export async function rendered(letter: Letter): Promise<RenderedPdf> {
  const { value, problems } = await renderPdf(letter);
  if (!value) throw new Error(`not rendered: ${JSON.stringify(problems)}`);
  return value;
}

/** A handout with this body. */
export function letterOf(html: string, more: Partial<Letter> = {}): Letter {
  return { ...HANDOUT, html, ...more };
}

export async function readBack(bytes: Uint8Array): Promise<readonly ReadPage[]> {
  const task = getDocument({ data: bytes.slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: ReadPage[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const page = await document.getPage(number);
    const [, , width = 0, height = 0] = page.view;
    const { items } = await page.getTextContent();
    const placed = items.flatMap((item): PlacedText[] =>
      "str" in item && item.str.trim() !== ""
        ? [
            {
              text: item.str,
              leftMm: (item.transform[4] as number) * MM,
              baseMm: (height - (item.transform[5] as number)) * MM,
              size: item.height,
            },
          ]
        : [],
    );
    const text = items.map((item) => ("str" in item ? item.str + (item.hasEOL ? " " : "") : "")).join("");
    const { fnArray } = await page.getOperatorList();
    pages.push({
      drawn: fnArray.filter((fn) => fn === OPS.constructPath).length,
      items: placed,
      text: text.replace(/\s+/g, " ").trim(),
      widthMm: width * MM,
      heightMm: height * MM,
      structure: (await page.getStructTree()) as StructureNode | null,
    });
  }
  await task.destroy();
  return pages;
}

/** Renders and reads back. */
export async function pagesOf(letter: Letter): Promise<readonly ReadPage[]> {
  return readBack((await rendered(letter)).bytes);
}

/** Roles of a structure tree in reading order, as nested text such as `Table(TR(TH TD))`. */
export function outline(node: StructureNode | null | undefined): string {
  if (!node?.role) return "";
  const inner = (node.children ?? []).map(outline).filter((text) => text !== "");
  return inner.length > 0 ? `${node.role}(${inner.join(" ")})` : node.role;
}

/** All nodes with a role, in reading order. */
export function allNodes(node: StructureNode | null | undefined): StructureNode[] {
  if (!node) return [];
  return [node, ...(node.children ?? []).flatMap(allNodes)].filter((each) => each.role !== undefined);
}
