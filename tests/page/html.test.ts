/** The standalone page. */
import { Parser } from "htmlparser2";
import { expect, test } from "vitest";
import { readMarkup } from "../../src/page/html/markup.js";
import { renderHtml } from "../../src/page/html.js";
import { wordsOf } from "../../src/page/text.js";
import { letterOf } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";
import { plainJpeg } from "./sample-photos.js";

function parsed(html: string) {
  const tags: string[] = [];
  const ids: string[] = [];
  let text = "";
  const parser = new Parser({
    onopentag: (name, attributes) => {
      tags.push(name);
      if (attributes.id) ids.push(attributes.id);
    },
    ontext: (piece) => {
      text += piece;
    },
  });
  parser.end(html);
  return { tags, ids, text: text.replace(/\s+/g, " ") };
}

test("it asks nothing of the world outside", () => {
  const photos = { a: plainJpeg(20, 20) };
  const page = renderHtml({
    ...REFERRAL,
    photos,
    html: `${REFERRAL.html}<figure><img src="photo:a" alt="Margin"></figure>`,
  });
  expect(page).toContain("default-src 'none'");
  expect(page).toContain('<img src="data:image/jpeg;base64,/9j/');
  expect(page).not.toMatch(/<(script|link|iframe)|@import|url\((?!#)/);
  expect(page.replaceAll("http://www.w3.org/2000/svg", "")).not.toMatch(/https?:\/\//);
});

test("it has the letter's words, language, title, identifiers and printing rules", () => {
  const page = renderHtml(REFERRAL);
  const { text, tags } = parsed(page);
  for (const word of wordsOf(REFERRAL).split(" ")) expect(text).toContain(word);
  expect(page).toContain('<html lang="en-GB">');
  expect(page).toContain("<title>Referral letter TS-2026-0141</title>");
  expect(text).toContain("born 4 July 1991");
  expect(page).toContain("@page { size: A4;");
  expect(tags.filter((tag) => tag === "h1")).toHaveLength(1);
  expect(tags.filter((tag) => tag === "thead").length).toBeGreaterThan(1);
});

test("a draft says so in words, not only behind them", () => {
  const { text } = parsed(renderHtml({ ...HANDOUT, draftMark: "DRAFT" }));
  expect(text.match(/DRAFT/g)).toHaveLength(2);
  expect(renderHtml(HANDOUT)).not.toContain("DRAFT");
});

test("what is not in the vocabulary is left out, its words kept and escaped", () => {
  const page = renderHtml(
    letterOf(
      '<p onclick="x()">a &lt;b&gt; <a href="javascript:x()">c</a></p><script>alert(1)</script><blink>d</blink>',
      {
        title: "</title><script>y()</script>",
        identifiers: "<b>id</b>",
      },
    ),
  );
  expect(page).not.toMatch(/<script|<blink|onclick|javascript:|<b>/);
  expect(page).toContain("a &lt;b&gt;");
});

test("drawings keep their ids apart", () => {
  const svg =
    '<svg width="9" height="9" role="img" aria-label="a"><defs><pattern id="h" width="2" height="2"/></defs><rect width="9" height="9" fill="url(#h)"/></svg>';
  const page = renderHtml(letterOf(`<figure>${svg}</figure><figure>${svg}</figure>`));
  const { ids } = parsed(page);
  expect(new Set(ids).size).toBe(2);
  for (const id of ids) expect(page).toContain(`url(#${id})`);
});

test("its body is again in the vocabulary, but for the photos", () => {
  const body = /<main>([\s\S]*)<\/main>/.exec(renderHtml(HANDOUT))?.[1] ?? "";
  const { problems } = readMarkup(
    body.replaceAll(/ role="\w+"| aria-level="\d"/g, "").replace(/<colgroup>.*?<\/colgroup>/g, ""),
  );
  expect(problems).toEqual([]);
});
