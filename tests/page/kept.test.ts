/**
 * Small documents as they are handed to the PDF engine, kept whole: each element alone, then what changes it. A measure that differs
 * on purpose is looked at on paper, then kept anew with `vitest run tests/page/kept.test.ts -u`.
 */
import { expect, it } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { asTree } from "./as-tree.js";
import { REFERRAL } from "./sample-letter.js";

type Small = Readonly<Record<string, readonly [html: string, more?: Partial<Letter>]>>;

const DRAWING = (width: number, height: number, alt = 'aria-label="Dots"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" ${alt}><circle cx="5" cy="5" r="4"/></svg>`;
const LONG = "Perifollicular scale around several openings at the margin of the patch";

const KEPT: Readonly<Record<string, Small>> = {
  words: {
    "a paragraph in voices": [
      '<p>One <strong>two</strong> <em>three</em> <small>four</small><br> five <a href="tel:+441632960141">six</a> <span lang="de">sieben</span></p>',
    ],
    "after one another": [
      '<h1>A</h1><p>b</p><h2>C</h2><h3>D</h3><p>e:</p><ul><li>f</li></ul><p>g</p><hr><p class="small">h</p><p class="subject">i</p>',
    ],
    "words beside blocks": ["<ul><li>loose <strong>words</strong><p>a</p>more</li><li>b</li></ul>"],
    "long lines, large type": [`<p>${LONG}</p>`, { typeSize: "large" }],
    "long lines, compact type": [`<p>${LONG}</p>`, { typeSize: "compact" }],
    "numbers and units": ["<p>14 mm, 2 of 10, 12 March 2026</p>", { typeSize: "compact" }],
    "hidden and foreign letters": ['<p lang="he">a\u200bb \u05d0\u05d1</p>'],
  },
  lists: {
    "one and two items": ["<ul><li>a</li></ul><ol><li>a</li></ol><ol><li>a</li><li>b</li></ol>"],
    "numbered from three": ['<ol start="3"><li>a</li></ol><ol start="3"><li>a</li><li>b</li></ol>'],
    "label and value": [
      "<dl><dt>Course</dt><dd>sudden</dd><dt>Treatment so far</dt><dd><ul><li>one</li></ul></dd><dd>two</dd></dl>",
    ],
    pictured: [
      `<ul class="pictured"><li>${DRAWING(20, 20, 'aria-hidden="true"')} a</li><li>${LONG}, ${LONG}</li><li>${DRAWING(20, 60)} ${LONG}</li></ul>`,
    ],
    none: ['<dl></dl><ul class="pictured"></ul>'],
  },
  boxes: {
    "each kind": [
      '<p>a</p><aside class="summary"><p>b</p><p>c</p></aside><aside class="clinician-only"><p>d</p></aside><aside class="caution"><p>e</p></aside>',
    ],
    "side by side": [
      '<div class="beside" data-widths="40 60"><p>a</p><p>b</p></div>',
      { typeSize: "compact" },
    ],
    "side by side without widths": [
      '<div class="beside"><p>a</p><ul><li>b</li></ul></div>',
      { typeSize: "compact" },
    ],
    "too narrow": ['<div class="beside" data-widths="20 80"><p>a</p><p>b</p></div>', { typeSize: "large" }],
    "held, signed, on a sheet of its own": [
      '<p>a</p><section class="keep"><h2>b</h2><p>c</p></section><section class="signature"><p>d</p></section><section class="sheet"><p>e</p></section>',
    ],
  },
  tables: {
    plain: [
      '<table><caption>Title</caption><thead><tr><th scope="col">Site</th><th scope="col" class="number">Found</th></tr></thead><tbody><tr><th scope="row">Vertex</th><td class="number">12.5 mm</td></tr><tr><th scope="row" class="plain">Nape</th><td class="number">3</td></tr></tbody></table>',
      { typeSize: "compact" },
    ],
    "joined headings, empty cells": [
      '<table><thead><tr><th colspan="2">A</th></tr><tr><th>B</th><th>C</th></tr></thead><tbody><tr><th>D</th><td></td></tr><tr><td colspan="2"><p>e</p><p>f</p></td></tr></tbody></table>',
      { typeSize: "compact" },
    ],
    "large type": [
      `<table><thead><tr><th>Who</th><th>What</th></tr></thead><tbody><tr><th>${LONG}</th><td>${LONG}</td></tr><tr><td>b</td><td></td></tr></tbody></table>`,
      { typeSize: "large" },
    ],
    "given widths": [
      `<table data-widths="20 * 30"><tbody><tr><td>a</td><td>${LONG}</td><td>c</td></tr></tbody></table>`,
      { typeSize: "compact" },
    ],
    "given widths that fill": [
      `<table data-widths="50 50"><tbody><tr><td>Unquestionablywideword</td><td>${LONG}</td></tr></tbody></table>`,
      { typeSize: "compact" },
    ],
    crowded: [
      `<table><tbody><tr><td>${LONG}</td><td>${LONG}, ${LONG}</td><td>ok</td></tr><tr><td>a-b</td><td>c</td><td>9,5 %</td></tr></tbody></table>`,
      { typeSize: "compact" },
    ],
  },
  figures: {
    "a drawing with its words": [
      `<p>a</p><figure>${DRAWING(200, 100)}<figcaption>From above.</figcaption></figure>`,
    ],
    "wider than the text": [`<figure>${DRAWING(2000, 100)}</figure>`],
    "taller than the page": [`<figure>${DRAWING(100, 4000)}</figure>`],
    "no photo, no size": [
      '<figure><img src="photo:1" alt="A"></figure><figure><svg aria-label="b"></svg></figure>',
    ],
  },
  letters: Object.fromEntries(
    (["uk-dl", "none"] as const).flatMap((addressWindow) =>
      (["compact", "large"] as const).map((typeSize): [string, readonly [string, Partial<Letter>]] => [
        `head and foot, ${addressWindow}, ${typeSize}`,
        [
          `<header class="letterhead">${DRAWING(44, 44)}<p>Tarn Sound Clinic</p><p>12 Ropewalk Quay<br>Tarn Sound</p><p>Telephone</p></header><address class="window">Dr Ilse Brandt<br>Quayside</address><table class="reference"><tbody><tr><th scope="row">Date</th><td>12 March 2026</td></tr><tr><th scope="row">Seen by</th><td>Anneli Thorsby</td></tr></tbody></table><p>Dear</p>`,
          {
            addressWindow,
            typeSize,
            foldMarks: true,
            windowOutline: typeSize === "compact",
            draftMark: typeSize === "compact" ? "DRAFT" : null,
            identifiers: REFERRAL.identifiers,
            confidentiality: typeSize === "compact" ? "" : REFERRAL.confidentiality,
            paper: typeSize === "compact" ? "A4" : "Letter",
          },
        ],
      ]),
    ),
  ),
  "other heads": {
    "a wide logo and a plain reference": [
      `<header class="letterhead">${DRAWING(180, 40)}<p>Tarn Sound Clinic for Hair, Scalp and the Skin of the Head</p></header><p class="reference">12 March</p><p>a</p>`,
      { typeSize: "compact" },
    ],
    "a long name beside a logo": [
      `<header class="letterhead">${DRAWING(44, 44)}<p>Tarn Sound Clinic for Hair, Scalp and Skin of the Head</p></header><p>a</p>`,
      { typeSize: "compact" },
    ],
    "a logo alone, and three references in a row": [
      `<header class="letterhead">${DRAWING(44, 44)}</header><table class="reference"><tbody><tr><th>a</th><td>b</td><td>c</td></tr><tr><td>d</td></tr></tbody></table>`,
      { typeSize: "compact" },
    ],
  },
};

it.each(Object.entries(KEPT))("%s", async (file, small) => {
  const told = Object.entries(small).map(([name, [html, more]]) => `# ${name}\n${asTree(html, more)}\n`);
  await expect(told.join("\n")).toMatchFileSnapshot(`kept/${file.replaceAll(" ", "-")}.txt`);
});
