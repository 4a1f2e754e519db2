/** An edit and its weighing read one text once; what may change beside it is looked at each time. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readAtDesk } from "../../src/desk/read-at-desk.js";
import { oddCharacters } from "../../src/desk/unprintable.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { root } from "../house/source-files.js";

const path = join(root, "examples", "patients", "TS-41388", "2026-09-22.yaml");
const text = readFileSync(path, "utf8");
const desk = { knowledge: loadKnowledge(), today: () => "2026-11-28" };

it("reads the same text of the same file once, and any other anew", () => {
  const first = readAtDesk(text, path, desk);
  expect(first.value).toBeDefined();
  expect(readAtDesk(text, path, desk)).toBe(first);
  expect(readAtDesk(text, path, { ...desk, today: () => "2026-11-29" })).not.toBe(first);
  const other = readAtDesk(text, `${path}.yaml`, desk);
  expect(other).not.toBe(first);
  const longer = readAtDesk(`${text}\n# later\n`, `${path}.yaml`, desk);
  expect(longer).not.toBe(other);
});

it("looks again at what lies beside a photo", () => {
  const photographed = join(root, "examples", "patients", "TS-40417", "2026-03-12.yaml");
  const withPhotos = readFileSync(photographed, "utf8");
  expect(withPhotos).toContain("photos:");
  const first = readAtDesk(withPhotos, photographed, desk);
  expect(readAtDesk(withPhotos, photographed, desk)).not.toBe(first);
});

it("looks once for characters that cannot be printed, and finds those of another text", () => {
  const none = oddCharacters(text, path, undefined);
  expect(oddCharacters(text, path, undefined)).toBe(none);
  const odd = oddCharacters(text.replace(/reason: /u, "reason: 头 "), path, undefined);
  expect(odd.length).toBe(none.length + 1);
});
