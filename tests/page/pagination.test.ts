/** Where pages end: nothing lost, nothing stranded, nothing blank. */
import { expect, test } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { letterOf, pagesOf, type ReadPage, rendered } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";
import { plainJpeg } from "./sample-photos.js";

const SENTENCE =
  "The margin of the patch was looked at in three fields of view, each at the same magnification. ";

function paragraph(sentences: number, from = 0): string {
  return `<p>${Array.from({ length: sentences }, (_, i) => `${from + i}. ${SENTENCE}`).join("")}</p>`;
}

function bodyOf(page: ReadPage): string {
  return page.text.slice(0, page.text.indexOf("Marit Solheim-Adeyemi · born"));
}

/** Lines of the text area, top to bottom. */
function linesOf(page: ReadPage): string[] {
  const lines = new Map<number, string[]>();
  for (const item of page.items) {
    if (item.baseMm > page.heightMm - 24) continue;
    const at = Math.round(item.baseMm * 2);
    lines.set(at, [...(lines.get(at) ?? []), item.text]);
  }
  return [...lines.entries()].sort(([a], [b]) => a - b).map(([, words]) => words.join(" "));
}

test("no page of the samples is blank and each carries the foot", async () => {
  for (const letter of [REFERRAL, HANDOUT, { ...HANDOUT, typeSize: "large" } satisfies Letter]) {
    const pages = await pagesOf(letter);
    pages.forEach((page, i) => {
      expect(linesOf(page).length).toBeGreaterThan(3);
      expect(page.text).toContain("TS-40417 · letter of 12 March 2026");
      expect(page.text).toContain(`Page ${i + 1} of ${pages.length}`);
      expect(page.text).toContain("Confidential.");
    });
  }
});

test("a heading near the end of a page moves to its text", async () => {
  for (let before = 12; before < 24; before += 2) {
    const pages = await pagesOf(letterOf(`${paragraph(before)}<h2>Stranded heading</h2>${paragraph(9)}`));
    for (const page of pages) {
      const lines = linesOf(page);
      const at = lines.findIndex((line) => line.includes("Stranded heading"));
      if (at >= 0) expect(lines.length - at, `${before} sentences before`).toBeGreaterThanOrEqual(3);
    }
  }
});

test("a heading stays with the table that follows it, and two headings stay together", async () => {
  const rows = Array.from({ length: 12 }, (_, i) => `<tr><td>Site ${i}</td><td>Seen</td></tr>`).join("");
  const table = `<table><caption>Findings</caption><thead><tr><th scope="col">Site</th><th scope="col">Amount</th></tr></thead><tbody>${rows}</tbody></table>`;
  for (let before = 14; before < 24; before += 2) {
    const pages = await pagesOf(letterOf(`${paragraph(before)}<h2>Upper</h2><h3>Lower</h3>${table}`));
    const page = pages.find((each) => each.text.includes("Upper"));
    expect(page?.text, `${before} sentences before`).toContain("Upper Lower Findings Site Amount Site 0");
  }
});

test("a heading and the line under it go with the table or list that they lead into", async () => {
  const items = Array.from({ length: 6 }, (_, i) => `item ${i}`);
  const table = `<table><thead><tr><th scope="col">A</th><th scope="col">B</th></tr></thead><tbody>${items.map((item) => `<tr><td>${item}</td><td>${SENTENCE.repeat(2)}</td></tr>`).join("")}</tbody></table>`;
  const list = `<ul>${items.map((item) => `<li>${item} ${SENTENCE.repeat(2)}</li>`).join("")}</ul>`;
  for (const led of [table, list])
    for (let before = 24; before < 44; before += 2) {
      const pages = await pagesOf(letterOf(`${paragraph(before)}<h3>Heading</h3><p>Lead in.</p>${led}`));
      const page = pages.find((each) => each.text.includes("Heading"));
      expect(page?.text, `${before} sentences before`).toContain("item 0");
    }
});

test("the last item of a list does not begin a page alone", async () => {
  const items = Array.from({ length: 5 }, (_, i) => `<li>item ${i} ${SENTENCE}</li>`).join("");
  for (let before = 24; before < 44; before += 2) {
    const pages = await pagesOf(letterOf(`${paragraph(before)}<ul>${items}</ul>${paragraph(30, 900)}`));
    const on = (item: number) => pages.findIndex((page) => page.text.includes(`item ${item}`));
    expect(on(4), `${before} sentences before`).toBe(on(3));
  }
});

test("no paragraph leaves a single line on either side of a page end", async () => {
  for (let before = 10; before < 22; before += 1) {
    const pages = await pagesOf(letterOf(`${paragraph(before)}${paragraph(14, 500)}`));
    if (pages.length < 2) continue;
    const split = pages.map(linesOf);
    const first = split[0]?.at(-1) ?? "";
    const isSplit =
      bodyOf(pages[0] as ReadPage).includes("500.") && bodyOf(pages[1] as ReadPage).includes("513.");
    if (!isSplit) continue;
    const onFirst = split[0]?.length ?? 0;
    const start = split[0]?.findIndex((line) => line.startsWith("500.")) ?? 0;
    expect(onFirst - start, first).toBeGreaterThanOrEqual(2);
    expect(split[1]?.length).toBeGreaterThanOrEqual(2);
  }
});

test.each([null, "DRAFT"])(
  "rows are not split, and their headings are repeated, marked %s",
  async (draftMark) => {
    const rows = Array.from(
      { length: 60 },
      (_, i) => `<tr><td>Row ${i} begins</td><td>${"many words here ".repeat(8)} ends row ${i}.</td></tr>`,
    ).join("");
    const pages = await pagesOf(
      letterOf(
        `<table data-widths="20 80"><thead><tr><th scope="col">Name</th><th scope="col">Words</th></tr></thead><tbody>${rows}</tbody></table>`,
        { draftMark },
      ),
    );
    for (const page of pages) {
      for (let i = 0; i < 60; i += 1) {
        const begins = page.text.includes(`Row ${i} begins`);
        expect(page.text.includes(`ends row ${i}.`), `row ${i}`).toBe(begins);
      }
      expect(page.text).toMatch(/^(?:DRAFT )?Name Words/);
    }
  },
);

test.each([
  ["with a heading row", '<thead><tr><th scope="col">A</th><th scope="col">B</th></tr></thead>', ""],
  ["as the first row", "", ""],
  ["after other rows", "", "<tr><td>small</td><td>row</td></tr>"],
])("a row taller than a page is split and loses nothing, %s", async (_, head, before) => {
  const words = Array.from({ length: 1400 }, (__, i) => `w${i}`).join(" ");
  const html = `<h1>Tall</h1><table data-widths="50 50">${head}<tbody>${before}<tr><td>${words}</td><td>short</td></tr><tr><td>last</td><td>row</td></tr></tbody></table>`;
  const pages = await pagesOf(letterOf(html));
  const text = pages.map(bodyOf).join(" ");
  for (let i = 0; i < 1400; i += 1) expect(text).toMatch(new RegExp(`\\bw${i}\\b`));
  expect(text).toContain("last row");
});

test("a box, a list and a kept section taller than a page lose nothing", async () => {
  const items = Array.from({ length: 80 }, (_, i) => `<li>item ${i} of the list ${SENTENCE}</li>`).join("");
  for (const html of [
    `<aside class="caution"><h3>Long</h3><ul>${items}</ul></aside>`,
    `<section class="keep"><h2>Long</h2><ul>${items}</ul></section>`,
    `<div class="beside"><ul>${items}</ul><p>short</p></div>`,
    `<ul class="pictured">${items}</ul>`,
    `<ul class="pictured"><li>${Array.from({ length: 80 }, (_, i) => `item ${i} of the list ${SENTENCE}`).join(" ")}</li></ul>`,
    `<aside class="summary"><dl><dt>First</dt><dd><ul>${items}</ul></dd><dt>Then</dt><dd><p>short</p></dd></dl></aside>`,
    `<aside class="summary"><dl><dt>First</dt><dd><p>short</p></dd><dt>Then</dt><dd><ul>${items}</ul></dd></dl></aside>`,
  ]) {
    const text = (await pagesOf(letterOf(html))).map((page) => bodyOf(page).trim()).join(" ");
    for (let i = 0; i < 80; i += 1) expect(text).toContain(`item ${i} of the list`);
  }
});

test("a box never leaves its frame behind at the foot of a page", async () => {
  const box =
    '<aside class="caution"><h3>Mind</h3><ul><li>First of the box</li><li>Last of it</li></ul></aside>';
  // A drawing of another height each time brings the box to every place above the foot.
  const html = (height: number, then: string) =>
    `${paragraph(24)}<figure><svg role="img" aria-label="x" width="40" height="${height}" viewBox="0 0 40 ${height}"><rect width="40" height="${height}" fill="#fff"/></svg></figure>${then}<p>after</p>`;
  let moved = 0;
  for (let height = 60; height <= 340; height += 10) {
    const [first, second] = await pagesOf(letterOf(html(height, box)));
    if (first?.text.includes("Mind") || !second?.text.includes("Mind")) continue;
    const [bare] = await pagesOf(letterOf(html(height, "")));
    moved += 1;
    expect(first?.drawn, `a drawing of ${height}`).toBe(bare?.drawn);
  }
  expect(moved).toBeGreaterThan(5);
});

test("a kept section that fits on a page is not split", async () => {
  for (let before = 13; before < 22; before += 2) {
    const pages = await pagesOf(
      letterOf(
        `${paragraph(before)}<section class="keep"><h2>Kept start</h2>${paragraph(6)}<p>Kept end</p></section>`,
      ),
    );
    const page = pages.find((each) => each.text.includes("Kept start"));
    expect(page?.text).toContain("Kept end");
  }
});

test("the signature is never alone on its page", async () => {
  const signature =
    '<section class="signature"><p>Yours sincerely,</p><p>Anneli Thorsby<br>Consultant dermatologist</p></section>';
  for (let before = 12; before < 24; before += 1) {
    const pages = await pagesOf(letterOf(`${paragraph(before)}${signature}`));
    expect(pages.length, "the lines it takes along stand on its page").toBeLessThanOrEqual(2);
    const page = pages.find((each) => each.text.includes("Yours sincerely")) as ReadPage;
    expect(page.text).toContain("Anneli Thorsby");
    const lines = linesOf(page);
    expect(
      lines.indexOf(lines.find((line) => line.includes("Yours")) ?? ""),
      `${before}`,
    ).toBeGreaterThanOrEqual(2);
  }
});

test("a sheet of its own begins a page, and what stands before it is set as if it were not there", async () => {
  const sheet = '<section class="sheet"><h2>A page for Alva</h2><p>We saw your head.</p></section>';
  for (const before of [1, 30]) {
    const alone = await pagesOf(letterOf(paragraph(before)));
    const pages = await pagesOf(letterOf(`${paragraph(before)}${sheet}`));
    expect(pages).toHaveLength(alone.length + 1);
    expect(pages.slice(0, -1).map((p) => linesOf(p).join(" "))).toEqual(
      alone.map((p) => linesOf(p).join(" ")),
    );
    expect(linesOf(pages.at(-1) as ReadPage).slice(0, 2)).toEqual(["A page for Alva", "We saw your head."]);
  }
});

test("a table before the signature gives it a row for company", async () => {
  const signature = '<section class="signature"><p>Yours sincerely,</p><p>Anneli Thorsby</p></section>';
  for (let count = 18; count < 26; count += 1) {
    const rows = Array.from({ length: count }, (_, i) => `<tr><td>Site ${i}</td><td>Seen</td></tr>`).join("");
    const pages = await pagesOf(letterOf(`<table><tbody>${rows}</tbody></table>${signature}`));
    const page = pages.find((each) => each.text.includes("Yours sincerely"));
    expect(page?.text, `${count} rows`).toMatch(/Site \d+ Seen Yours sincerely/);
  }
});

test("a last page of a few lines is taken back when closer setting allows", async () => {
  const { pages } = await rendered(REFERRAL);
  expect(pages).toBe(2);
});

test("an endless word and an endless identifier are broken, not lost", async () => {
  const word = "q".repeat(400);
  const pages = await pagesOf(letterOf(`<p>${word}</p>`, { identifiers: `born 1991 ${"z".repeat(200)}` }));
  const letters = pages[0]?.text ?? "";
  expect([...letters].filter((c) => c === "q").length).toBe(400);
  expect([...letters].filter((c) => c === "z").length).toBe(200);
});

test("bound words in a column too narrow for them are broken, not lost or refused", async () => {
  const html =
    '<table data-widths="4 4 92"><thead><tr><th scope="col">A</th><th scope="col">B</th><th scope="col">C</th></tr></thead><tbody><tr><td>born 19 September 1965</td><td>01632 960 141 222 333</td><td>' +
    `${"Incomprehensibilities ".repeat(3)}</td></tr></tbody></table>`;
  for (const typeSize of ["compact", "reading"] as const) {
    const [page] = await pagesOf(letterOf(html, { typeSize }));
    expect(page?.text.replaceAll(" ", "")).toContain("01632960141222333");
  }
});

test("a table's first row does not stay behind alone, and no word stands alone on a last line", async () => {
  const filler = (n: number) => `<p>${"Words of the letter in a line or so. ".repeat(2)}</p>`.repeat(n);
  const row = (site: string) =>
    `<tr><th scope="row">${site}</th><td>${"seen, counted and written down here, ".repeat(4)}</td></tr>`;
  const table = `<table><thead><tr><th scope="col">Site</th><th scope="col">Seen</th></tr></thead><tbody>${["Nape", "Crown", "Brow"].map(row).join("")}</tbody></table>`;
  for (let lines = 18; lines < 30; lines += 2) {
    const pages = await pagesOf(letterOf(`${filler(lines)}${table}<p>The end of it all.</p>`));
    const on = ["Nape", "Crown", "Brow"].map((site) => pages.findIndex((page) => page.text.includes(site)));
    const alone = on[0] !== on[1] || on[1] !== on[2];
    expect(alone, `${lines} paragraphs before the table: pages ${on.join()}`).toBe(false);
  }
});

test("a photo that would have the last page to itself is set smaller", async () => {
  const photos = { scalp: plainJpeg(900, 900) };
  const words =
    "<p>Words of the letter, enough for a line of it and a little more than that, one would think.</p>";
  const figure = '<h2>Images</h2><figure><img src="photo:scalp" alt="A scalp" width="220"></figure>';
  const counts = new Set<number>();
  for (let lines = 13; lines <= 17; lines += 1) {
    const { pages } = await rendered(letterOf(words.repeat(lines) + figure, { photos }));
    counts.add(pages);
  }
  expect([...counts]).toEqual([1]);
});

test("no word stands alone on the last line of a paragraph", async () => {
  const counts = Array.from({ length: 30 }, (_, i) => i + 9);
  const paragraph = (n: number) =>
    `<p>${Array.from({ length: n }, (_, i) => `p${n}word${"x".repeat(i % 4)}`).join(" ")}</p>`;
  const pages = await pagesOf(letterOf(counts.map(paragraph).join("\n")));
  const lines = new Map<string, string>();
  for (const [page, { items }] of pages.entries())
    for (const { text, baseMm } of items) {
      const owner = /^p(\d+)word/.exec(text.trim())?.[1];
      const key = `${owner} ${page} ${baseMm.toFixed(1)}`;
      if (owner) lines.set(key, `${lines.get(key) ?? ""} ${text}`);
    }
  const last = new Map([...lines].map(([key, text]) => [key.split(" ")[0], text.trim().split(/\s+/).length]));
  expect(last.size).toBe(counts.length);
  expect([...lines].length).toBeGreaterThan(counts.length * 2);
  expect([...last].filter(([, words]) => words < 2)).toEqual([]);
});
