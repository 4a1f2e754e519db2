/** A finished letter -> an editable document (Office Open XML, .docx) from the same HTML: real headings, lists and tables. */
import { hasError, type Outcome } from "../base/problem.js";
import type { Letter } from "../letter/document.js";
import { readMarkup } from "./html/markup.js";

/**
 * The letter as an editable document. Drawings stay vector drawings with their text alternative; the page count and the
 * identifiers stand in the foot, a draft mark in the head of every page. Equal letters give equal bytes. Problems: anything
 * outside the HTML vocabulary.
 */
export async function renderDocx(letter: Letter): Promise<Outcome<Uint8Array>> {
  const { value, problems } = readMarkup(letter.html);
  if (!value || hasError(problems)) return { problems };
  // The library is large and few commands need it.
  const { documentBytes } = await import("./docx/document.js");
  return { value: await documentBytes(letter, value), problems };
}
