/** What the list keeps for the next start: from so many visits on, whole, and of the same knowledge, or not at all. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { type Kept, type KeptList, keepList, LIST_FILE, readKeptList } from "../../src/desk/kept-list.js";
import { scratch } from "../batch/command.js";

const listOf = (count: number): KeptList => ({
  visits: Object.fromEntries(
    Array.from({ length: count }, (_, i) => [
      `v${i}.yaml`,
      { hash: `h${i}`, listed: {} as Kept["listed"], recipients: [], isWhole: i % 2 === 0 },
    ]),
  ),
  looked: {},
});
const NONE: KeptList = { visits: {}, looked: {} };

it("is kept from 150 visits on, and read as it was kept", () => {
  const folder = scratch();
  keepList(folder, "mark", listOf(149));
  expect(existsSync(join(folder, LIST_FILE))).toBe(false);
  keepList(folder, "mark", listOf(150));
  expect(readKeptList(folder, "mark")).toEqual(listOf(150));
});

it("is made anew for other knowledge, and where a character of it is another", () => {
  const folder = scratch();
  keepList(folder, "mark", listOf(150));
  expect(readKeptList(folder, "another mark")).toEqual(NONE);
  const file = join(folder, LIST_FILE);
  writeFileSync(file, readFileSync(file, "utf8").replace("h149", "h148"));
  expect(readKeptList(folder, "mark")).toEqual(NONE);
  expect(readKeptList(scratch(), "mark")).toEqual(NONE);
});
