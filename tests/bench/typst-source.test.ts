/** The Typst source of a letter holds every word and every picture of it, for every element that templates may use. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { type Element, readMarkup } from "../../src/page/html/markup.js";
import { ELEMENTS } from "../../src/page/html/vocabulary.js";
import { letterOf } from "../page/read-back.js";
import { HANDOUT, REFERRAL } from "../page/sample-letter.js";
import { plainJpeg } from "../page/sample-photos.js";
import { typstSource } from "./typst-source.js";

const GUIDE = readFileSync(inPackage("templates", "README.md"), "utf8");
const EXAMPLES = [...GUIDE.matchAll(/```html\n([\s\S]*?)```/g)].map((match) => match[1] ?? "");

interface Seen {
  readonly names: Set<string>;
  readonly words: string[];
  pictures: number;
}

function look(element: Element, seen: Seen): Seen {
  seen.names.add(element.name);
  if (element.name === "svg" || element.name === "img") seen.pictures += 1;
  for (const child of element.children) {
    if (child.kind === "element") look(child, seen);
    else if (child.text.trim() !== "") seen.words.push(child.text.trim());
  }
  return seen;
}

function read(html: string): Seen {
  const root = readMarkup(html).value;
  if (!root) throw new Error("the example cannot be read");
  return look(root, { names: new Set(), words: [], pictures: 0 });
}

/** Strings that the source sets as text. */
function setIn(source: string): string[] {
  return [...source.matchAll(/#("(?:\\.|[^"\\])*")/g)]
    .map(([, string]) => (JSON.parse(string ?? "") as string).trim())
    .filter((text) => text !== "");
}

/** Brackets outside strings, in order of opening; throws when one is not closed by its own. */
function nesting(source: string): number {
  const open: string[] = [];
  let deepest = 0;
  for (const [sign] of source.replace(/"(?:\\.|[^"\\])*"/g, "").matchAll(/[[\](){}]/g)) {
    const closes = { "]": "[", ")": "(", "}": "{" }[sign];
    if (!closes) open.push(sign);
    else if (open.pop() !== closes) throw new Error(`a ${sign} closes nothing`);
    deepest = Math.max(deepest, open.length);
  }
  if (open.length > 0) throw new Error(`${open.join("")} is not closed`);
  return deepest;
}

const photos = { "left-1": plainJpeg(60, 40) };

test.each(EXAMPLES.map((html) => [html]))("all words and pictures of %s", (html) => {
  const { words, pictures } = read(html);
  const { source } = typstSource(letterOf(html, { photos }));
  expect(setIn(source).sort()).toEqual(words.sort());
  expect(source.match(/#picture\(/g)?.length ?? 0).toBe(pictures);
  expect(nesting(source)).toBeGreaterThan(0);
});

test("the examples hold every element", () => {
  const names = new Set(EXAMPLES.flatMap((html) => [...read(html).names]));
  expect(Object.keys(ELEMENTS).filter((name) => !names.has(name))).toEqual([]);
});

test.each([
  ["<p><strong>a</strong> <em>b</em></p>", /#strong\[#"a"\]#" "#emph\[#"b"\]/],
  ['<p>a "b" \\ #c [d]</p>', /#"a \\"b\\" \\\\ #c \[d\]"/],
  ['<ol start="3"><li>a</li><li>b</li></ol>', /#enum\(start: 3, \[#"a"\], \[#"b"\]\)/],
  ["<ul><li>a</li></ul>", /#list\(\[#"a"\]\)/],
  ["<h1>a</h1><h2>b</h2>", /#heading\(level: 1\)\[#"a"\]\s+#heading\(level: 2\)\[#"b"\]/],
  ["<dl><dt>a</dt><dd>b</dd></dl>", /#definitions\(strong\[#"a"\], \[#"b"\]\)/],
  ['<aside class="caution"><p>a</p></aside>', /#caution\[#"a"\]/],
  ['<aside class="clinician-only"><p>a</p></aside>', /#clinician\[#"a"\]/],
  [
    '<div class="beside" data-widths="40 60"><p>a</p><p>b</p></div>',
    /#beside\(\(40fr, 60fr,\), \[#"a"\], \[#"b"\]\)/,
  ],
  ["<p>a<br> b</p>", /#"a"#linebreak\(\)#"b"/],
])("%s", (html, expected) => {
  expect(typstSource(letterOf(html)).source).toMatch(expected);
});

test("a table keeps its columns, joined cells and heading row", () => {
  const html =
    '<table data-widths="25 * 20"><thead><tr><th scope="col" colspan="2">a</th><th scope="col">b</th></tr></thead>' +
    '<tbody><tr><th scope="row">c</th><td>d</td><td class="number">1</td></tr></tbody></table>';
  const { source } = typstSource(letterOf(html));
  expect(source).toContain("columns: (25fr, 55fr, 20fr,)");
  expect(source).toMatch(/table\.header\(table\.cell\(colspan: 2/);
  expect(source).toMatch(/align: right\)\[#"1"\]/);
});

test("the foot, the draft mark and the photos come along", () => {
  const html = '<figure><img src="photo:left-1" alt="Margin" width="90"></figure>';
  const { source, files } = typstSource(letterOf(html, { photos, draftMark: "DRAFT" }), "/7");
  expect(source).toContain(`identifiers: "${HANDOUT.identifiers}"`);
  expect(source).toContain('draft: "DRAFT"');
  expect(source).toMatch(/#picture\(read\("\/7\/left-1", encoding: none\), "jpg", 90pt, 60pt, 1, "Margin"\)/);
  expect([...files.keys()]).toEqual(["/7/left-1"]);
});

test("whole letters have all their words once", () => {
  for (const letter of [REFERRAL, HANDOUT])
    expect(setIn(typstSource(letter).source).sort()).toEqual(read(letter.html).words.sort());
});
