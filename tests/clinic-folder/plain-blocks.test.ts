/** The quick reading of plain blocks never says anything else than the parser of YAML, and serves nearly every file. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { plainBlocks } from "../../src/clinic-folder/plain-blocks.js";
import { root } from "../house/source-files.js";

const parsed = (text: string): unknown => {
  try {
    return parse(text, { schema: "failsafe", maxAliasCount: 0, logLevel: "silent" });
  } catch {
    return "refused";
  }
};
const quick = (text: string) => plainBlocks(text.split("\n"));

const patients = join(root, "examples", "patients");
const HEADS = readdirSync(patients, { recursive: true, encoding: "utf8" })
  .filter((name) => /(?<!\.marks)\.yaml$/u.test(name))
  .map((name) => readFileSync(join(patients, name), "utf8"))
  .map((text) => text.match(/^(?:visit|patient):.*(?:\n +.*)*/gmu)?.join("\n") ?? "");

const SKELETON = `visit: # the visit
  id: V-1   # from the book

  # the day
  date: 2026-01-02
patient:
    id: 0141
    name:
      given: Oda
      # as on the passport
      family: Farrow
    address:
      - 4 Ropewalk Steps
      - TS2 4QF
    sex:
    large_print: yes`;

describe("plain blocks", () => {
  it("serves every example without the parser, and gives what the parser gives", () => {
    expect(HEADS.length).toBeGreaterThan(15);
    for (const head of [...HEADS, SKELETON]) {
      expect(quick(head), head).toBeDefined();
      expect(quick(head)).toEqual(parsed(head));
    }
  });

  const SIGNS = [
    ..." :#-,[]{}&*!|>'\"%@`?~\t\u00a0\u2028\u0085\ufeffé1\\",
    "\n",
    "\n ",
    "\n  ",
    "\n    ",
    "\nvisit:",
    "\n  id: x",
    ": ",
    " #",
    "- ",
    "{ ",
    " }",
    "<<: ",
    "\n---\n",
  ];
  const change = fc.record({ at: fc.nat(1000), take: fc.nat(4), put: fc.constantFrom("", ...SIGNS) });
  it("leaves to the parser what may mean something else", () => {
    let served = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...HEADS, SKELETON),
        fc.array(change, { minLength: 1, maxLength: 3 }),
        (head, changes) => {
          const text = changes.reduce((now, { at, take, put }) => {
            const place = at % (now.length + 1);
            return now.slice(0, place) + put + now.slice(place + take);
          }, head);
          const found = quick(text);
          if (found === undefined) return;
          served++;
          expect(found).toEqual(parsed(text));
        },
      ),
      { numRuns: 4000 },
    );
    expect(served).toBeGreaterThan(400);
  });

  it.each([
    "visit:\n  id: a\n  id: b",
    "visit:\n  id: a\nvisit:\n  id: b",
    "visit:\n  id: a\n    b",
    "visit:\n  id: a\n   date: b",
    "visit: { id: a }\n  date: b",
    "visit:\n  id: 'a'",
    "visit:\n  id: |\n    a",
    "visit:\n  id: &a b",
    "visit:\n\tid: a",
    "visit:\n  name: { given: a, given: b }",
    "accept:\n- { id: a, reason: b }",
    "  id: a",
  ])("leaves %j to the parser", (text) => {
    expect(quick(text)).toBeUndefined();
  });
});
