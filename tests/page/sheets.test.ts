/** Paper, windows, folds and large print, measured on the finished page. */
import { expect, test } from "vitest";
import { SHEETS } from "../../src/base/paper.js";
import type { AddressWindow, Letter } from "../../src/letter/document.js";
import { MARGIN_MM, WINDOWS } from "../../src/page/type/paper.js";
import { SCALES } from "../../src/page/type/scale.js";
import { fitWindow } from "../../src/page/type/window-fit.js";
import { letterOf, pagesOf, type ReadPage } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";

const ADDRESS = [
  "Dr Ilse Brandt",
  "Quayside Practice",
  "1 Fish Street",
  "Harbour Side",
  "Tarn Sound",
  "TS1 1AA",
];

function withAddress(window: AddressWindow, lines: number, more: Partial<Letter> = {}): Letter {
  const address = `<address class="window">${ADDRESS.slice(0, lines).join("<br>")}</address>`;
  const html = REFERRAL.html.replace(/<address[\s\S]*?<\/address>/, address);
  return { ...REFERRAL, html, addressWindow: window, ...more };
}

/** Where the words of one line begin. */
function find(page: ReadPage, word: string) {
  const item = page.items.find(({ text }) => text === word);
  if (!item) throw new Error(`${word} is not on the page`);
  return item;
}

test.each([
  ["uk-dl", "A4", 5],
  ["din-5008-a", "A4", 5],
  ["din-5008-b", "A4", 6],
  ["us-9", "Letter", 5],
  ["us-10", "Letter", 3],
  ["us-10", "Letter", 4],
] as const)("the address lies in the window %s on %s", async (window, paper, lines) => {
  const place = WINDOWS[window];
  const [page] = await pagesOf(withAddress(window, lines, { paper }));
  if (!page) throw new Error("no page");
  const first = find(page, ADDRESS[0] ?? "");
  expect(first.leftMm).toBeCloseTo(place.leftMm, 1);
  expect(first.baseMm - first.size * 0.35).toBeGreaterThan(place.topMm - 0.5);
  const inWindow = page.items.filter(
    ({ baseMm, leftMm }) =>
      baseMm > place.topMm && baseMm < place.topMm + place.heightMm && leftMm < place.leftMm + place.widthMm,
  );
  const shown = inWindow
    .map(({ text }) => text)
    .join("")
    .replaceAll(" ", "");
  expect(shown).toBe(ADDRESS.slice(0, lines).join("").replaceAll(" ", ""));
  const body = page.items.find(({ text }) => text.startsWith("Referral"));
  expect(body?.baseMm).toBeGreaterThan(place.bodyTopMm);
});

test("an address is set smaller only where the window needs it, and never below what post can read", () => {
  const usual = SCALES.compact.address;
  const fitted = (window: "us-10" | "uk-dl", lines: number) =>
    fitWindow(ADDRESS.slice(0, lines), WINDOWS[window], usual);
  expect(fitted("us-10", 3)).toMatchObject({ fits: true, style: { size: 10 }, most: 4 });
  expect(fitted("us-10", 4)).toMatchObject({ fits: true, style: { size: 9 } });
  expect(fitted("us-10", 5)).toMatchObject({ fits: false, style: { size: 8.5 } });
  expect(fitted("uk-dl", 5)).toMatchObject({ fits: true, style: { size: 10 } });
  const wide = ["Dr Ilse Brandt", "The Quayside Practice for the Families of Fishers and Rope Makers", "TS1"];
  expect(fitWindow(wide, WINDOWS["us-10"], usual)).toMatchObject({ fits: true, style: { size: 9 } });
});

test("a line too wide for the window goes on in a second line inside it", async () => {
  const wide = "Professor Bartholomew Oyelowo-Featheringham-Smythe of Harbours";
  const letter = withAddress("uk-dl", 3);
  const [page] = await pagesOf({ ...letter, html: letter.html.replace(ADDRESS[0] ?? "", wide) });
  const lines = page?.items.filter(({ text }) => wide.includes(text.trim()) && text.trim() !== "") ?? [];
  expect(new Set(lines.map(({ baseMm }) => baseMm)).size).toBe(2);
  for (const { leftMm } of lines)
    expect(leftMm).toBeLessThan(WINDOWS["uk-dl"].leftMm + WINDOWS["uk-dl"].widthMm);
});

test("a line too wide for the window goes on after a comma, and no name of a street or town is torn", () => {
  const usual = SCALES.compact.address;
  const at = (line: string, window: "us-10" | "uk-dl" = "uk-dl") =>
    fitWindow(["Dr Ilse Brandt", line], WINDOWS[window], usual).rows.slice(1);
  expect(
    at("The Old Ropewalk Family Practice, 3 Old Customs House Lane, Upper Saltmarsh by the Sound TS6 4PL"),
  ).toEqual([
    "The Old Ropewalk Family Practice,",
    "3 Old Customs House Lane,",
    "Upper Saltmarsh by the Sound TS6 4PL",
  ]);
  expect(at("Orchard Family Medicine at the Canal, 22 Canal Street, Albion, NY 14411").at(-1)).toBe(
    "22 Canal Street, Albion, NY 14411",
  );
  expect(at("1 Fish Street, Tarn Sound, TS1 1AA")).toEqual(["1 Fish Street, Tarn Sound, TS1 1AA"]);
  // Where the window has no room for that, a line breaks between words rather than go unseen.
  const crowded =
    "The Rope Makers’ Family Practice, 117 Lower Lighthouse Promenade, Saint Bartholomew under the Cliffs, Upper Saltmarsh by the Old Sound, Tarn Sound and its Northern Isles";
  expect(at(crowded, "us-10")).toEqual([crowded]);
});

test("nothing but the address shows in a window, however long the letterhead", async () => {
  const long =
    '<header class="letterhead"><p>The Very Long Named Tarn Sound Hair and Scalp Clinic of the Northern Harbours</p><p>One<br>Two<br>Three<br>Four<br>Five<br>Six</p></header>';
  for (const window of ["uk-dl", "din-5008-a", "din-5008-b"] as const) {
    const letter = withAddress(window, 4);
    const [page] = await pagesOf({ ...letter, html: letter.html.replace(/<header[\s\S]*?<\/header>/, long) });
    const place = WINDOWS[window];
    const inZone = page?.items.filter(
      ({ baseMm, leftMm }) =>
        baseMm > place.topMm - 1 && baseMm < place.topMm + place.heightMm && leftMm < 105,
    );
    const shown = inZone
      ?.map(({ text }) => text)
      .join("")
      .replaceAll(" ", "");
    expect(shown).toBe(ADDRESS.slice(0, 4).join("").replaceAll(" ", ""));
  }
});

test("an address without a window stands below the clinic's name, and the text begins in the upper quarter", async () => {
  const [page] = await pagesOf(withAddress("none", 5));
  expect(page?.text).toMatch(/Dr Ilse Brandt Quayside Practice.*Referral after/);
  const baseOf = (start: string) =>
    page?.items.find(({ text }) => text.startsWith(start))?.baseMm ?? Number.NaN;
  expect(baseOf("Referral after")).toBeLessThan(297 / 4);
  const window = await pagesOf(withAddress("uk-dl", 5));
  expect(window[0]?.items.find(({ text }) => text.startsWith("Referral"))?.baseMm).toBeGreaterThan(90);
});

test.each(["A4", "Letter"] as const)("%s has its size and margins", async (paper) => {
  for (const typeSize of ["compact", "reading", "large"] as const) {
    for (const page of await pagesOf({ ...HANDOUT, paper, typeSize })) {
      expect(page.widthMm).toBeCloseTo(SHEETS[paper].widthMm, 1);
      expect(page.heightMm).toBeCloseTo(SHEETS[paper].heightMm, 1);
      for (const item of page.items) {
        expect(item.leftMm).toBeGreaterThan(MARGIN_MM.left - 0.2);
        expect(item.baseMm).toBeLessThan(page.heightMm - MARGIN_MM.bottom + 0.5);
      }
    }
  }
});

test("large print is 18 points, reflowed, and never under 13 except in the window", async () => {
  const pages = await pagesOf({ ...HANDOUT, typeSize: "large" });
  const sizes = pages.flatMap((page) =>
    page.items.filter(({ text }) => !/^[12]$/.test(text)).map(({ size }) => size),
  );
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(13);
  const body = sizes.filter((size) => Math.abs(size - 18) < 0.01);
  expect(body.length).toBeGreaterThan(sizes.length / 2);
  expect(pages.length).toBeGreaterThanOrEqual(3);
});

test("large print sets a wide table as one block a row", async () => {
  const table =
    '<table><thead><tr><th scope="col">Who</th><th scope="col">What</th><th scope="col">When</th></tr></thead><tbody><tr><th scope="row">You</th><td>Take a photo</td><td>Today</td></tr></tbody></table>';
  const [page] = await pagesOf(letterOf(table, { typeSize: "large" }));
  expect(page?.text).toContain("You What: Take a photo When: Today");
});

test("lines of running text are not too long to read", async () => {
  const words =
    "The margin of the patch was looked at in three fields of view at the same magnification and light. ".repeat(
      12,
    );
  for (const typeSize of ["compact", "reading"] as const) {
    const [page] = await pagesOf(letterOf(`<p>${words}</p>`, { typeSize }));
    const lines = new Map<number, string[]>();
    for (const item of page?.items.filter(({ baseMm }) => baseMm < 200) ?? []) {
      const at = Math.round(item.baseMm * 2);
      lines.set(at, [...(lines.get(at) ?? []), item.text]);
    }
    const lengths = [...lines.values()].slice(0, -1).map((line) => line.join(" ").length);
    const mean = lengths.reduce((a, b) => a + b, 0) / lengths.length;
    expect(mean).toBeGreaterThan(58);
    expect(mean).toBeLessThanOrEqual(typeSize === "reading" ? 80 : 88);
  }
});
