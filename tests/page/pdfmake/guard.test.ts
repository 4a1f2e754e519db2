/** No letter loses words in silence, whatever stops working in the engine: with any patch off, the same words or an error. */
import { afterEach, beforeAll, expect, test, vi } from "vitest";
import type { Letter } from "../../../src/letter/document.js";
import { renderPdf } from "../../../src/page/pdf.js";
import { loadEngine } from "../../../src/page/pdfmake/print.js";
import { ENGINE } from "../../../src/page/pdfmake/private.js";
import { LONG } from "../../runs.js";
import { letterOf, readBack } from "../read-back.js";
import { HANDOUT, REFERRAL } from "../sample-letter.js";
import { putBack, replaced } from "./engine-members.js";

const PARAGRAPH =
  "Recorded in the shade by the mill pond, with words enough to fill several lines and to run from one page to the next. ".repeat(
    5,
  );
const LETTERS: readonly Letter[] = [
  REFERRAL,
  HANDOUT,
  letterOf(
    `${`<h2>Part</h2><p>${PARAGRAPH}</p><ol><li>First</li><li>Second</li></ol>`.repeat(8)}` +
      `<table><thead><tr><th scope="col">Site</th><th scope="col">Dots</th></tr></thead><tbody>${Array.from({ length: 50 }, (_, i) => `<tr><td>Place ${i}</td><td>${i}</td></tr>`).join("")}</tbody></table>`,
    { draftMark: "DRAFT" },
  ),
];
/** The referral letter has drawings, tables and lists; the others as well with `WHORL_RUNS=1`. */
const TRIED = LONG ? [0, 1, 2] : [0];

async function wordsOf(letter: Letter): Promise<string> {
  const { value, problems } = await renderPdf(letter);
  if (!value) return problems.map(({ id }) => id).join();
  return (await readBack(value.bytes)).map((page) => page.text).join(" ");
}

/** Words of table headings, which stand again where a table goes on. */
const HEADINGS = new Set(
  LETTERS.flatMap(({ html }) => [...html.matchAll(/<thead>(.*?)<\/thead>/gsu)]).flatMap(([, head = ""]) =>
    head.replaceAll(/<[^>]*>/gu, " ").split(/\s+/u),
  ),
);

/** Each word's count; a list drawn by the engine itself has drawn dots instead of written ones. */
function counted(text: string): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const word of text.replaceAll("\u2022", "").split(/\s+/))
    counts[word] = HEADINGS.has(word) ? 1 : (counts[word] ?? 0) + 1;
  delete counts[""];
  return counts;
}

const REFUSALS = ["content-lost", "page-failed"];
const right: string[] = [];

beforeAll(async () => {
  await loadEngine();
  for (const letter of LETTERS) right.push(await wordsOf(letter));
});

afterEach(() => {
  vi.restoreAllMocks();
});

test("the letters are long enough to lose something", () => {
  expect(right.every((text) => text.split(" ").length > 100)).toBe(true);
  expect(right.join()).not.toMatch(/content-lost|page-failed/);
});

test("with any one method of the engine as it came, a letter has all its words or is refused", async () => {
  await loadEngine();
  const names = replaced();
  expect(names.length).toBeGreaterThan(10);
  const refused: string[] = [];
  for (const name of names) {
    const again = putBack(name);
    try {
      for (const i of TRIED) {
        const words = await wordsOf(LETTERS[i] as Letter);
        if (REFUSALS.includes(words)) refused.push(name);
        else expect(counted(words), name).toEqual(counted(right[i] ?? ""));
      }
    } finally {
      again();
    }
  }
  // Without these no content can be told from other content, nothing is tagged, pages cannot be looked at, or the foot stands twice.
  expect([...new Set(refused)].sort()).toEqual([
    "LayoutBuilder.addHeadersAndFooters",
    "LayoutBuilder.buildNextLine",
    "Renderer.renderLine",
    "Renderer.renderPages",
    "Renderer.renderSVG",
  ]);
});

test("with nothing of the engine changed, a letter is refused", async () => {
  const again = replaced().map(putBack);
  expect(replaced()).toEqual([]);
  const words = await wordsOf(REFERRAL);
  for (const act of again) act();
  expect(words).toBe("content-lost");
});

test("lines that never reach a page are told of", async () => {
  const { prototype } = ENGINE.LayoutBuilder;
  const { buildNextLine } = prototype;
  let lines = 0;
  vi.spyOn(prototype, "buildNextLine").mockImplementation(function (this: typeof prototype, node) {
    lines += 1;
    return lines === 9 ? null : buildNextLine.call(this, node);
  });
  expect(await wordsOf(LETTERS[2] as Letter)).toBe("content-lost");
});

test("a character changed on the way is told of", async () => {
  const { prototype } = ENGINE.TextInlines;
  const { buildInlines } = prototype;
  vi.spyOn(prototype, "buildInlines").mockImplementation(function (this: typeof prototype, text, styles) {
    const made = buildInlines.call(this, text, styles);
    return {
      ...made,
      items: made.items.map((item) => ({ ...item, text: item.text.replace("mill", "hill") })),
    };
  });
  expect(await wordsOf(LETTERS[2] as Letter)).toBe("content-lost");
});

test("a drawing that reaches no page is told of", async () => {
  const letter = letterOf(
    '<p>Words</p><figure><svg width="20" height="20" role="img" aria-label="A dot"><circle cx="10" cy="10" r="5"/></svg></figure>',
  );
  expect(await wordsOf(letter)).toContain("Words");
  const { prototype } = ENGINE.LayoutBuilder;
  const { layoutDocument } = prototype;
  vi.spyOn(prototype, "layoutDocument").mockImplementation(function (this: typeof prototype, ...given) {
    const pages = layoutDocument.apply(this, given);
    return pages.map((page) => ({ ...page, items: page.items.filter(({ type }) => type !== "svg") }));
  });
  expect(await wordsOf(letter)).toBe("content-lost");
});
