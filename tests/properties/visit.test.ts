/** Laws of reading: any text gives a Visit or placed problems; what is written reads as it was; order and spelling do not matter. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parse, stringify } from "yaml";
import { hasError } from "../../src/base/problem.js";
import { inPackage } from "../../src/base/root.js";
import { parseClinic } from "../../src/visit/clinic.js";
import { problemTable } from "../../src/visit/problems.js";
import { parseVisit } from "../../src/visit/read.js";
import { writeVisit } from "../../src/visit/write.js";
import { runs } from "../runs.js";
import { testKnowledge } from "../visit/test-knowledge.js";
import { visits } from "./visit-arbitrary.js";

const GOOD = readFileSync(inPackage("tests", "good", "patchy-complete.yaml"), "utf8");
const read = (text: string) => parseVisit(text, "visit.yaml", testKnowledge, { today: "2026-12-31" });
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

/** A Visit, or errors that each stand in a line of the text; ids all in the table. */
function holds(text: string): void {
  for (const { value, problems } of [read(text), parseClinic(text, "clinic.yaml")]) {
    expect(value === undefined).toBe(hasError(problems));
    const count = text.split(/\r\n|\r|\n/u).length;
    for (const { id, line, column, message } of problems) {
      expect(Object.keys(problemTable)).toContain(id);
      expect(message).not.toMatch(/undefined|NaN|\[object/u);
      if (["empty-file", "file-too-big", "not-text"].includes(id)) continue;
      expect(line).toBeGreaterThan(0);
      expect(line).toBeLessThanOrEqual(count);
      expect(column).toBeGreaterThan(0);
    }
  }
}

describe("any text", () => {
  test("of any characters", () => {
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 300 }), holds), { numRuns: runs(300) });
  });

  test("of YAML's own characters and a visit's words", () => {
    const piece = fc.constantFrom(
      ..."\n-:?[]{},#&*!|>'\"%@` \t=~.0",
      ..."visit patient sites findings site yellow dots few none count id born date name: null <<: __proto__".split(
        " ",
      ),
      "\n  ",
      ": ",
      "- ",
      "&a ",
      "*a",
      "---\n",
    );
    fc.assert(
      fc.property(
        fc.array(piece, { maxLength: 60 }).map((pieces) => pieces.join("")),
        holds,
      ),
      { numRuns: runs(600) },
    );
  });

  test("of any YAML value", () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => holds(stringify(value))),
      { numRuns: runs(200) },
    );
  });

  test("that was a good visit before lines were cut, doubled or spoiled", () => {
    const lines = GOOD.split("\n");
    const edit = fc.record({
      at: fc.nat(lines.length - 1),
      how: fc.constantFrom("cut", "double", "spoil", "indent", "key"),
      column: fc.nat(60),
      with: fc.constantFrom("", ":", "'", '"', "[", "}", "\t", "#", "ø", "-1", "null", "0"),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 4 }), (edits) => {
        const changed = [...lines];
        for (const { at, how, column, with: piece } of edits) {
          const line = changed[at] ?? "";
          const spoiled = line.slice(0, column) + piece + line.slice(column + 1);
          const ways = {
            cut: "",
            double: `${line}\n${line}`,
            spoil: spoiled,
            indent: ` ${line}`,
            key: line.replace(/\w+:/u, "x:"),
          };
          changed[at] = ways[how as keyof typeof ways];
        }
        holds(changed.join("\n"));
      }),
      { numRuns: runs(200) },
    );
  });

  test("with any value in any place of a good visit", () => {
    const places: (string | number)[][] = [];
    const walk = (value: unknown, path: (string | number)[]) => {
      places.push(path);
      if (Array.isArray(value)) for (const [i, v] of value.entries()) walk(v, [...path, i]);
      else if (value && typeof value === "object")
        for (const [k, v] of Object.entries(value)) walk(v, [...path, k]);
    };
    walk(parse(GOOD), []);
    const value = fc.oneof(
      fc.jsonValue({ maxDepth: 2 }),
      fc.double(),
      fc.constantFrom("", "null", "-0", "1e99", "0x1F", "\u202e", "none", "\ud800"),
    );
    fc.assert(
      fc.property(fc.constantFrom(...places.filter((p) => p.length > 0)), value, (path, replacement) => {
        const copy: unknown = parse(GOOD);
        let parent = copy as Record<string | number, unknown>;
        for (const step of path.slice(0, -1)) parent = parent[step] as Record<string | number, unknown>;
        parent[path.at(-1) ?? ""] = replacement;
        holds(stringify(copy));
      }),
      { numRuns: runs(250) },
    );
  });
});

describe("writing back", () => {
  test("read(write(visit)) is the visit", () => {
    fc.assert(
      fc.property(visits(testKnowledge), (visit) => {
        const { value, problems } = read(writeVisit(visit));
        expect(problems.filter((p) => p.severity === "error")).toEqual([]);
        expect(value).toEqual(plain(visit));
        expect(read(writeVisit(visit, testKnowledge)).value).toEqual(plain(visit));
      }),
      { numRuns: runs(150) },
    );
  });
});

describe("what does not matter", () => {
  const shuffled = <T extends object>(map: T, order: readonly string[]): T =>
    Object.fromEntries(
      order.flatMap((key) => (key in map ? [[key, (map as Record<string, unknown>)[key]]] : [])),
    ) as T;

  test("the order of keys", () => {
    const file = parse(GOOD) as Record<string, unknown>;
    const keys = Object.keys(file);
    fc.assert(
      fc.property(fc.shuffledSubarray(keys, { minLength: keys.length }), (order) => {
        expect(read(stringify(shuffled(file, order))).value).toEqual(read(GOOD).value);
      }),
      { numRuns: runs(30) },
    );
  });

  test("the order of findings and sites: the same facts in the order written", () => {
    fc.assert(
      fc.property(visits(testKnowledge), fc.nat(), (visit, turn) => {
        const turned = <T>(items: readonly T[]): T[] => {
          const at = items.length === 0 ? 0 : turn % items.length;
          return [...items.slice(at), ...items.slice(0, at)];
        };
        const other = {
          ...visit,
          sites: turned(visit.sites).map((s) => ({ ...s, findings: turned(s.findings) })),
        };
        const ids = (text: string) =>
          read(text)
            .problems.map((p) => p.id)
            .sort();
        expect(read(writeVisit(other)).value).toEqual(plain(other));
        expect(ids(writeVisit(other))).toEqual(ids(writeVisit(visit)));
      }),
      { numRuns: runs(40) },
    );
  });

  test("case, hyphens, plural and synonyms of a finding", () => {
    const spellings = Object.values(testKnowledge.findings).flatMap(({ id, term, also }) =>
      [id, term, ...also].map((word) => [word, id] as const),
    );
    const disguise = fc.tuple(
      fc.constantFrom(...spellings),
      fc.constantFrom("-", "_", " ", "  ", "\u2011"),
      fc.infiniteStream(fc.boolean()),
      fc.boolean(),
    );
    fc.assert(
      fc.property(disguise, ([[word, id], gap, upper, single]) => {
        const base = single ? word.replace(/s$/u, "") : word;
        const written = [...base.replaceAll(/[ -]/gu, gap)]
          .map((ch) => (upper.next().value ? ch.toUpperCase() : ch))
          .join("");
        const { value } = read(
          GOOD.replace("{ yellow dots: none, black dots: none }", `{ "${written}": few }`),
        );
        expect(value?.sites[1]?.findings).toEqual([
          { finding: id, seen: { state: "present", amount: "few" } },
        ]);
      }),
      { numRuns: runs(200) },
    );
  });
});
