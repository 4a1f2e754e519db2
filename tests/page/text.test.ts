/** Plain text of 78 columns. */
import { expect, test } from "vitest";
import { columnsOf, wrap } from "../../src/page/text/lines.js";
import { renderText, wordsOf } from "../../src/page/text.js";
import { letterOf } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";

function bodyOf(html: string): string {
  const text = renderText(letterOf(html));
  return text.slice(0, text.indexOf(`\n\n${"-".repeat(78)}\nMarit`));
}

test("no line of the samples is longer than 78 columns or ends in a space", () => {
  for (const letter of [REFERRAL, HANDOUT]) {
    const text = renderText(letter);
    for (const line of text.split("\n")) {
      expect(columnsOf(line)).toBeLessThanOrEqual(78);
      expect(line).toBe(line.trimEnd());
    }
    expect(text.endsWith("\n")).toBe(true);
  }
});

test("every word of the samples is there, and the identifiers", () => {
  for (const letter of [REFERRAL, HANDOUT]) {
    const text = renderText(letter).replace(/\s+/g, " ");
    for (const word of wordsOf(letter).split(" ")) expect(text).toContain(word);
    expect(text).toContain("TS-40417 · letter of 12 March 2026");
    expect(text).toContain("Confidential.");
  }
});

test("headings, lists and labels", () => {
  expect(
    bodyOf(
      '<h1>Title</h1><h2>Part</h2><p>Words</p><ol start="9"><li>one</li><li>two<br>lines</li></ol><ul><li>dot</li></ul><dl><dt>Born</dt><dd>1991</dd></dl>',
    ),
  ).toBe("Title\n=====\n\nPart\n----\nWords\n\n9. one\n10. two\n    lines\n\n- dot\n\nBorn: 1991");
});

test("a table is aligned while it fits, numbers to the right", () => {
  expect(
    bodyOf(
      '<table><caption>Counts</caption><thead><tr><th scope="col">Site</th><th scope="col" class="number">Dots</th></tr></thead><tbody><tr><td>Left parietal</td><td class="number">3</td></tr><tr><td>Nape</td><td class="number">114</td></tr></tbody></table>',
    ),
  ).toBe("Counts\n\nSite           Dots\n-------------  ----\nLeft parietal     3\nNape            114");
});

test("a table too wide for the page becomes labelled lines", () => {
  const heads = "ABCDEFGH"
    .split("")
    .map((letter) => `<th scope="col">Column ${letter}</th>`)
    .join("");
  const cells = "ABCDEFGH"
    .split("")
    .map((letter) => `<td>a long entry for ${letter}</td>`)
    .join("");
  const text = bodyOf(`<table><thead><tr>${heads}</tr></thead><tbody><tr>${cells}</tr></tbody></table>`);
  expect(text).toContain("a long entry for A\n    Column B: a long entry for B\n");
});

test("figures are their alternative, ornaments are left out, boxes are ruled", () => {
  const svg = (label: string) => `<svg width="9" height="9" ${label}><path d="M0 0"/></svg>`;
  const text = bodyOf(
    `<figure>${svg('role="img" aria-label="One patch"')}<figcaption>Seen from above</figcaption></figure><figure>${svg('aria-hidden="true"')}</figure><aside class="caution"><h3>Mind</h3><p>This.</p></aside>`,
  );
  const rule = "-".repeat(78);
  expect(text).toBe(`[One patch]\nSeen from above\n\n${rule}\n  Mind\n  This.\n${rule}`);
});

test("links say where they lead unless they already do", () => {
  expect(
    bodyOf(
      '<p><a href="https://tarnsound.example/a">our page</a> <a href="mailto:a@tarnsound.example">a@tarnsound.example</a></p>',
    ),
  ).toBe("our page <https://tarnsound.example/a> a@tarnsound.example");
});

test("a draft says so at both ends, and escape sequences do not reach the terminal", () => {
  const text = renderText(letterOf("<p>a\u001b[31mred\u202e</p>", { draftMark: "DRAFT" }));
  expect(text.startsWith("*** DRAFT ***\n")).toBe(true);
  expect(text.trimEnd().endsWith("*** DRAFT ***")).toBe(true);
  expect(text).toContain("a[31mred");
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the point of the test
  expect(text).not.toMatch(/[\u001b\u202e]/);
});

test("wrapping counts what is seen", () => {
  expect(columnsOf("Zoe\u0308")).toBe(3);
  expect(columnsOf("王小")).toBe(4);
  expect(wrap("aaa bbb ccc", 8)).toEqual(["aaa bbb", "ccc"]);
  expect(wrap("x".repeat(20), 8)).toEqual(["xxxxxxxx", "xxxxxxxx", "xxxx"]);
});
