/** The floor draws the pages of a letter: same words, same places, same structure. */
import { expect, test } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { letterOf, outline, type PlacedText, pagesOf, type ReadPage, readBack } from "../page/read-back.js";
import { HANDOUT, REFERRAL } from "../page/sample-letter.js";
import { plainJpeg } from "../page/sample-photos.js";
import { some } from "../runs.js";
import { drawFloor } from "./floor.js";
import { traceLetter } from "./trace.js";

/** The sample's hatching, which our own maps draw as plain lines. */
const plain = (letter: Letter): Letter => ({
  ...letter,
  html: letter.html.replaceAll("url(#hatch)", "none"),
});

const WITH_PHOTO = letterOf(
  '<h1>Photos</h1><figure><img src="photo:one" alt="Margin"><figcaption>One</figcaption></figure>' +
    '<p>Again, in <em>another</em> size:</p><figure><img src="photo:one" alt="Margin" width="90"></figure>',
  { photos: { one: plainJpeg(220, 160) } },
);

const LETTERS: readonly (readonly [string, Letter])[] = [
  ["a referral letter", plain(REFERRAL)],
  ["a handout in large print, not signed", { ...plain(HANDOUT), typeSize: "large", draftMark: "DRAFT" }],
  ["a letter with photos", WITH_PHOTO],
];

const words = (pages: readonly ReadPage[]) => pages.map((page) => page.text);

test.each(some(LETTERS, 1 / 3))("%s: the same words on every page", async (_, letter) => {
  const ours = words(await pagesOf(letter));
  expect(ours.join(" ").length).toBeGreaterThan(80);
  const trace = await traceLetter(letter);
  for (const tagged of [false, true])
    expect(words(await readBack(await drawFloor(trace, { tagged }))), `tagged: ${tagged}`).toEqual(ours);
});

test.each(some(LETTERS, 1 / 3))(
  "%s: every line begins where ours begins, under the same structure",
  async (_, letter) => {
    const ours = await pagesOf(letter);
    const floor = await readBack(await drawFloor(await traceLetter(letter), { tagged: true }));
    expect(floor.map((page) => outline(page.structure))).toEqual(ours.map((page) => outline(page.structure)));
    for (const [i, page] of ours.entries()) {
      const isNear = (one: PlacedText, other: PlacedText) =>
        Math.hypot(one.leftMm - other.leftMm, one.baseMm - other.baseMm) < 0.3;
      const lineStarts = page.items.filter(
        (item) => !page.items.some((o) => o.leftMm < item.leftMm && Math.abs(o.baseMm - item.baseMm) < 0.3),
      );
      expect(lineStarts.length).toBeGreaterThan(2);
      const missing = lineStarts.filter((start) => !floor[i]?.items.some((item) => isNear(item, start)));
      expect(missing).toEqual([]);
    }
  },
);

test("without tags there is no structure", async () => {
  const [page] = await readBack(await drawFloor(await traceLetter(WITH_PHOTO), { tagged: false }));
  expect(page?.structure).toBeNull();
});

test("the last letter traced leaves nothing in the next", async () => {
  const [first] = LETTERS[0] ? [LETTERS[0][1]] : [];
  if (!first) throw new Error("no letter");
  const alone = JSON.stringify((await traceLetter(first)).pages);
  await traceLetter(WITH_PHOTO);
  expect(JSON.stringify((await traceLetter(first)).pages)).toBe(alone);
});

test("a drawing that plain calls cannot draw is refused, not left out", async () => {
  await expect(traceLetter(REFERRAL)).rejects.toThrow(/the floor cannot draw/u);
});
