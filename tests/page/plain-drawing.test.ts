/** Drawings looked through without the HTML reader: ours are, and nothing that differs from them by one mark. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { ENGLISH_MAP_WORDS, PICTOGRAM_IDS, pictogram, scalpMap } from "../../src/diagram/diagram.js";
import { readLeniently, readMarkup } from "../../src/page/html/markup.js";
import { plainDrawings } from "../../src/page/html/plain-drawing.js";
import { site } from "../diagram/site.js";
import { runs } from "../runs.js";

const map = scalpMap({
  sites: [site("vertex", { lengthMm: 31, widthMm: 22, margin: "blurred" }), site("left temporal")],
  extent: { top: 30, left: 80, right: 0, back: 5 },
  words: { ...ENGLISH_MAP_WORDS, left: "L & <R>" },
}).svg;

const figure = (drawing: string) =>
  `<p>One</p>\n<figure>${drawing}<figcaption>Two</figcaption></figure>\n<p>x</p>`;

test("our own drawings are plain from their opening to their closing tag", () => {
  for (const drawing of [map, ...PICTOGRAM_IDS.map((id) => pictogram(id, `A "${id}"`) ?? "")]) {
    const html = figure(drawing) + figure(drawing);
    const found = plainDrawings(html);
    expect(found.map(({ start, to }) => html.slice(start, to + "</svg>".length))).toEqual([drawing, drawing]);
  }
});

const IN = '<svg aria-label="a"><path d="M0 0"/>';

test.each([
  ['<path d="M0 0" onclick="x"/>', 'attribute "onclick"'],
  ['<path d="M0 0" fill="url(http://x)"/>', 'attribute "fill"'],
  ['<path fill="var(--x)"/>', 'attribute "fill"'],
  ['<use href="http://x"/>', 'attribute "href"'],
  ['<path style="fill:url(//x)"/>', 'attribute "style"'],
  ["<script>x</script>", "<script>"],
  ["<foreignObject/>", "<foreignobject>"],
  ['<image href="#a"/>', "<image>"],
])("%s in a drawing is refused as before", (part, found) => {
  for (const html of [`${IN}${part}</svg>`, `<svg aria-label="a">${part}<path d="M0 0"/></svg>`]) {
    expect(plainDrawings(html)).toEqual([]);
    const { value, problems } = readMarkup(figure(html));
    expect(value).toBeUndefined();
    expect(problems).toMatchObject([{ id: "drawing-not-set", found, line: 2 }]);
  }
});

test.each([
  ["a comment", `<!-- ${map} -->`, 0],
  ["a comment that a drawing would end", `<!-- <svg aria-label="--"><path d="M0 0"/></svg>`, 0],
  ["the value of an attribute", `<p lang='${IN}</svg>'>a</p>`, 0],
  ["another drawing", `<figure><svg aria-label="b">${map}</svg></figure>`, 1],
  ["words that are not read as HTML", `<figure><svg aria-label="b"><title>${map}</title></svg></figure>`, 1],
])("a drawing within %s is nothing of its own", (_, html, count) => {
  expect(plainDrawings(html)).toHaveLength(1);
  const { root } = readLeniently(`${figure(map)}${html}`);
  const drawings: string[] = [];
  const walk = (nodes: typeof root.children) => {
    for (const node of nodes) {
      if (node.kind !== "element") continue;
      if (node.drawing !== undefined) drawings.push(node.drawing);
      walk(node.children);
    }
  };
  walk(root.children);
  expect(drawings[0]).toBe(map);
  expect(drawings).toHaveLength(1 + count);
});

test("whatever stands in and around a drawing, it is read as when none of it is plain", () => {
  const marks = [
    "<",
    ">",
    '"',
    "'",
    "&",
    "/",
    "<!--",
    "-->",
    "</svg>",
    "<svg>",
    "</p>",
    "<g>",
    "<title>",
    " on=",
    "(",
    "\n",
  ];
  const whole = figure('<svg aria-label="a"><path d="M0 0"/><text x="1">b &amp; c</text></svg>');
  // A mark that HTML reads over, put after each drawing's opening tag, keeps all of them from being plain.
  const unplain = (html: string) => html.replace(/(<svg\b[^<>]*>)/gu, "$1\u00a0");
  const strip = (value: unknown) => JSON.stringify(value).replaceAll("\u00a0", "");
  fc.assert(
    fc.property(
      fc.nat(whole.length),
      fc.nat(whole.length),
      fc.constantFrom(...marks),
      fc.constantFrom(...marks),
      (i, j, a, b) => {
        const [from, to] = i < j ? [i, j] : [j, i];
        const html = whole.slice(0, from) + a + whole.slice(from, to) + b + whole.slice(to);
        const slow = unplain(html);
        expect(plainDrawings(slow)).toEqual([]);
        expect(strip(readLeniently(html))).toBe(strip(readLeniently(slow)));
      },
    ),
    { numRuns: runs(3000) },
  );
});
