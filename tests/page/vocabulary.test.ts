/** The HTML that templates may use: what the guide shows is set, everything else is named. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { readMarkup } from "../../src/page/html/markup.js";
import { ELEMENTS } from "../../src/page/html/vocabulary.js";
import { renderPdf } from "../../src/page/pdf.js";
import { preparePhoto } from "../../src/page/photos.js";
import { runs } from "../runs.js";
import { letterOf } from "./read-back.js";
import { plainJpeg } from "./sample-photos.js";

const GUIDE = readFileSync(inPackage("templates", "README.md"), "utf8");
const EXAMPLES = [...GUIDE.matchAll(/```html\n([\s\S]*?)```/g)].map((match) => match[1] ?? "");

test("every example of the guide is set without a problem", async () => {
  expect(EXAMPLES.length).toBeGreaterThan(10);
  const photo = preparePhoto(plainJpeg(60, 40)).value?.bytes as Uint8Array;
  for (const html of EXAMPLES) {
    const { value, problems } = await renderPdf(letterOf(html, { photos: { "left-1": photo } }));
    expect(problems, html).toEqual([]);
    expect(value?.pages, html).toBe(html.includes("sheet") ? 2 : 1);
  }
});

test("the guide shows every element and every class", () => {
  const shown = EXAMPLES.join("\n");
  for (const [name, kind] of Object.entries(ELEMENTS)) {
    expect(shown, name).toMatch(new RegExp(`<${name}[\\s>]`));
    for (const word of kind.classes ?? []) {
      expect(shown, `${name}.${word}`).toMatch(new RegExp(`<${name}[^>]*class="${word}"`));
    }
    for (const attribute of kind.attributes ?? []) {
      expect(shown, `${name} ${attribute}`).toMatch(new RegExp(`<${name}[^>]*\\s${attribute}=`));
    }
  }
});

test.each([
  ["<p>a</p>\n<blink>b</blink>", "unknown-element", "<blink>", 2],
  ["<p>a</p>\n\n<script>alert(1)</script>", "unknown-element", "<script>", 3],
  ['<aside class="sumary"><p>a</p></aside>', "unknown-class", 'class "sumary"', 1],
  ["<aside><p>a</p></aside>", "unknown-class", "<aside>", 1],
  ['<p style="color:red">a</p>', "unknown-attribute", 'attribute "style"', 1],
  ['<p onclick="x()">a</p>', "unknown-attribute", 'attribute "onclick"', 1],
  ['<p><a href="javascript:x()">a</a></p>', "unknown-attribute", 'attribute "href" of <a>', 1],
  ['<figure><img src="/etc/passwd" alt="a"></figure>', "unknown-attribute", 'attribute "src" of <img>', 1],
  ['<address class="window"><h2>a</h2></address>', "misplaced-element", "<h2>", 1],
  ["<ul><p>a</p></ul>", "misplaced-element", "<p>", 1],
  ["<td>a</td>", "misplaced-element", "<td>", 1],
  ['<div class="beside">words<p>a</p></div>', "misplaced-element", "words", 1],
  ['<p>a</p><section class="keep"><p>b</p>', "unclosed-element", "<section>", 1],
  [
    '<figure><svg width="9" height="9"><path d="M0 0"/></svg></figure>',
    "figure-without-alternative",
    "<svg>",
    1,
  ],
  ['<figure><img src="photo:a"></figure>', "figure-without-alternative", "<img>", 1],
  [
    '<figure><svg aria-label="a" width="9" height="9"><script>x</script></svg></figure>',
    "drawing-not-set",
    "<script>",
    1,
  ],
  [
    '<figure><svg aria-label="a" width="9" height="9"><image href="http://a.example/b.png"/></svg></figure>',
    "drawing-not-set",
    "<image>",
    1,
  ],
  [
    '<figure><svg aria-label="a" width="9" height="9"><path d="M0 0" fill="var(--x)"/></svg></figure>',
    "drawing-not-set",
    'attribute "fill"',
    1,
  ],
  [
    '<figure><svg aria-label="a" width="9" height="9"><use href="other.svg#a"/></svg></figure>',
    "drawing-not-set",
    'attribute "href"',
    1,
  ],
])("%s is refused", (html, id, found, line) => {
  const { value, problems } = readMarkup(html);
  expect(value).toBeUndefined();
  expect(problems.map((problem) => problem.id)).toContain(id);
  const problem = problems.find((each) => each.id === id && each.found === found);
  expect(problem?.line).toBe(line);
});

test("a slip of the pen is told the nearest word, and all slips come at once", () => {
  const { problems } = readMarkup(
    '<asidee class="summary"><p>a</p></asidee>\n<aside class="sumary"><p clas="small">a</p></aside>',
  );
  expect(problems.map((problem) => problem.suggestion)).toEqual(
    expect.arrayContaining(["aside", "summary", "class"]),
  );
});

test("what only shows when set is a problem too, without words of the patient", async () => {
  const cases: [string, string][] = [
    ["<table><tbody><tr><td>Marit</td></tr><tr><td>a</td><td>b</td></tr></tbody></table>", "ragged-table"],
    ["<table><tbody></tbody></table>", "ragged-table"],
    ['<figure><img src="photo:gone" alt="Marit"></figure>', "photo-missing"],
    ['<figure><svg aria-label="Marit"><path d="M0 0"/></svg></figure>', "drawing-not-set"],
    ['<figure><svg aria-label="Marit" width="9" height="9"><g></svg></figure>', "page-failed"],
  ];
  for (const [html, id] of cases) {
    const { value, problems } = await renderPdf(letterOf(html));
    expect(value, html).toBeUndefined();
    expect(
      problems.map((problem) => problem.id),
      html,
    ).toEqual([id]);
    expect(JSON.stringify(problems)).not.toContain("Marit");
  }
});

test("any text in any known element gives a letter or problems, never a throw", async () => {
  const names = Object.keys(ELEMENTS);
  const piece = fc.oneof(
    fc.string({ maxLength: 12 }),
    fc.constantFrom(...names).map((name) => `<${name}>`),
    fc.constantFrom(...names).map((name) => `</${name}>`),
    fc.constantFrom(
      '<p class="subject">',
      "<td>x</td>",
      "<li>x</li>",
      "<!-- -->",
      "&nbsp;",
      "&#0;",
      "<![CDATA[x]]>",
    ),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(piece, { maxLength: 10 }), async (pieces) => {
      const { value, problems } = await renderPdf(letterOf(`<h1>a</h1>${pieces.join("")}`));
      expect(value !== undefined || problems.length > 0).toBe(true);
    }),
    { numRuns: runs(60) },
  );
});
