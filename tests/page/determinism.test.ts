/** The same letter gives the same bytes, whatever was set before; in another process and time zone, see tests/cli/same-bytes. */
import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { letterOf, rendered } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";

function hash(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

test("the same letter gives the same bytes again, after other letters, and at the same time as others", async () => {
  const once = hash((await rendered(REFERRAL)).bytes);
  await rendered(letterOf("<p>Nguyễn Thị Ánh, m\u0303 q\u0303, محمد עלי ≥ ✓</p>"));
  await rendered({ ...HANDOUT, typeSize: "large", draftMark: "DRAFT" });
  expect(hash((await rendered(REFERRAL)).bytes)).toBe(once);
  const many = await Promise.all([rendered(REFERRAL), rendered(HANDOUT), rendered(REFERRAL)]);
  expect(many.map(({ bytes }) => hash(bytes))).toEqual([once, hash((await rendered(HANDOUT)).bytes), once]);
});

test("letters that shape marks and right-to-left words are the same whatever came before", async () => {
  const letter = letterOf("<p>Ọlá q\u0323 and محمد عبد الرحمن</p>");
  const first = hash((await rendered(letter)).bytes);
  await rendered(letterOf("<p>مريم يوسف ị ọ ẹ q\u0323\u0301</p>"));
  expect(hash((await rendered(letter)).bytes)).toBe(first);
});

test("input is never changed", async () => {
  const before = JSON.stringify(REFERRAL);
  Object.freeze(REFERRAL.photos);
  await rendered(Object.freeze({ ...REFERRAL }));
  expect(JSON.stringify(REFERRAL)).toBe(before);
});
