/** Hebrew and Arabic inside our sentences: where each word stands on the paper, and the order in which it is read back. */
import { expect, test } from "vitest";
import { renderHtml } from "../../src/page/html.js";
import { isolates, rightToLeftRuns } from "../../src/page/type/right-to-left.js";
import { letterOf, pagesOf, rendered } from "./read-back.js";

const HEBREW = "\u05e0\u05e9\u05d9\u05e8\u05ea \u05e9\u05d9\u05e2\u05e8";
const ARABIC = "\u062a\u0633\u0627\u0642\u0637 \u0627\u0644\u0634\u0639\u0631";

test.each([
  [`${HEBREW}. 34 years, female.`, [HEBREW, ". 34 years, female."]],
  [`Reason: ${ARABIC}, 2 cm`, ["Reason: ", ARABIC, ", 2 cm"]],
  [`\u2068${HEBREW} 12\u2069 34 years`, [`${HEBREW} 12`, " 34 years"]],
  [`\u2068plain\u2069 words`, ["plain", " words"]],
  [`Site (${HEBREW}) and ${ARABIC}!`, ["Site (", HEBREW, ") and ", ARABIC, "!"]],
])("%s is cut into what reads each way", (text, parts) => {
  expect(isolates(text).map((part) => part.text)).toEqual(parts);
});

test("a number after a passage stays behind it, one inside an isolate goes with it", () => {
  const bare = rightToLeftRuns(`${HEBREW} 34 years`)?.map(({ text }) => text.replaceAll("\u00a0", " "));
  expect(bare).toEqual([HEBREW, " 34 years"]);
  const held = rightToLeftRuns(`\u2068${HEBREW} 12\u2069 34 years`)?.map(({ text }) =>
    text.replaceAll("\u00a0", " "),
  );
  expect(held).toEqual(["12", `${HEBREW} `, " 34 years"]);
});

/** Words of the first line by their place on the paper, from the left. */
async function onPaper(html: string): Promise<string[]> {
  const [page] = await pagesOf(letterOf(html));
  const first = page?.items[0]?.baseMm ?? 0;
  return (page?.items ?? [])
    .filter((item) => Math.abs(item.baseMm - first) < 1)
    .sort((a, b) => a.leftMm - b.leftMm)
    .map((item) => item.text.trim());
}

test.each([
  ["Hebrew", HEBREW],
  ["Arabic", ARABIC],
])("the age stays in its sentence after a reason in %s", async (_, reason) => {
  const words = await onPaper(`<p>Reason: ${reason}. 34 years, female.</p>`);
  const text = words.join(" ");
  expect(text.indexOf("34 years")).toBeGreaterThan(text.indexOf("Reason"));
  const last = words.at(-1) ?? "";
  expect(last).toContain("34 years, female.");
  expect(words[0]).toContain("Reason:");
});

test("a long passage is set in lines read one after another", async () => {
  const long = Array.from({ length: 12 }, () => HEBREW).join(" ");
  const [page] = await pagesOf(letterOf(`<p>Reason: ${long}. Seen in May.</p>`));
  const lines = new Set(page?.items.map((item) => Math.round(item.baseMm)));
  expect(lines.size).toBeGreaterThanOrEqual(5);
  expect(page?.text.match(/\u05e0\u05e9\u05d9\u05e8\u05ea|\u05ea\u05e8\u05d9\u05e9\u05e0/g)).toHaveLength(12);
  expect(page?.text).toContain("Seen in May.");
});

test("on the web page each passage stands by itself", () => {
  const page = renderHtml(letterOf(`<p>Reason: ${HEBREW}. 34 years.</p>`));
  expect(page).toContain(`Reason: <bdi>${HEBREW}</bdi>. 34 years.`);
});

test("isolates are no hidden characters", async () => {
  const { pages } = await rendered(letterOf(`<p>\u2068${HEBREW}\u2069 and more</p>`));
  expect(pages).toBe(1);
});
