import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { appendToRegister } from "../../src/register/append.js";
import { readRegister } from "../../src/register/read.js";
import { storedLine, writeLine } from "../../src/register/stored.js";
import { runs } from "../runs.js";
import { madeEntry } from "./entries.js";

let folder = "";
const file = () => join(folder, "register.jsonl");
const linesOf = () => readFileSync(file(), "utf8").trimEnd().split("\n");
const put = (lines: readonly string[]) => writeFileSync(file(), lines.map((line) => `${line}\n`).join(""));
const faultsOf = () => readRegister(folder).problems.map(({ id, line }) => [id, line]);

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "whorl-register-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function fill(count: number): string[] {
  for (let i = 1; i <= count; i += 1) appendToRegister(folder, [madeEntry(`V-${i}`)]);
  return linesOf();
}

describe("a register", () => {
  it("takes a line that names two before it for broken, unless it brings two copies together", () => {
    fill(2);
    const [first, second, third] = readRegister(folder).lines.map(({ hash }) => hash);
    if (!first || !second || !third) throw new Error("too few lines");
    const forged = storedLine({ ...madeEntry("V-3"), at: "2027-01-04T09:00:00Z" }, [third, first], "salt");
    put([...linesOf(), writeLine(forged)]);
    expect(faultsOf()).toContainEqual(["register-broken", 4]);
  });

  it("is not there before its first line", () => {
    expect(readRegister(folder)).toEqual({ exists: false, lines: [], doubtful: [], problems: [] });
  });

  it("gives back what was put in, each line naming the one before", () => {
    const added = appendToRegister(folder, [madeEntry("V-1"), madeEntry("V-2")]);
    const { lines, problems } = readRegister(folder);
    expect(problems).toEqual([]);
    expect(lines.map(({ kind, line }) => [kind, line])).toEqual([
      ["begun", 1],
      ["made", 2],
      ["made", 3],
    ]);
    expect(added).toEqual(lines.slice(1));
    expect(lines[1]).toMatchObject(madeEntry("V-1"));
    expect(lines.map(({ previous }) => previous)).toEqual([[], [lines[0]?.hash], [lines[1]?.hash]]);
  });

  it("says the first bad line whatever single character is changed, and gives the lines before", () => {
    const lines = fill(4);
    const text = readFileSync(file(), "utf8");
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: text.length - 2 }),
        fc.constantFrom("x", "0", " ", "\n", "}", '"'),
        (at, put) => {
          fc.pre(text[at] !== put);
          writeFileSync(file(), text.slice(0, at) + put + text.slice(at + 1));
          const changed = text.slice(0, at).split("\n").length;
          const { problems, lines: good } = readRegister(folder);
          const first = problems.find(({ severity }) => severity === "error");
          expect(first?.line).toBe(changed);
          expect(good.map(({ line }) => line)).toEqual(lines.slice(0, changed - 1).map((_line, i) => i + 1));
        },
      ),
      { numRuns: runs(1500) },
    );
  });

  it("misses every line that is taken out, moved or doubled", () => {
    const lines = fill(5);
    for (const [i, line] of lines.entries()) {
      put(lines.toSpliced(i, 1));
      expect(faultsOf()[0], `without line ${i + 1}`).toEqual([
        i === lines.length - 1 ? "register-cut" : "register-broken",
        i + 1,
      ]);
      put(lines.toSpliced(i, 0, line));
      expect(faultsOf()[0], `line ${i + 1} twice`).toEqual(["register-broken", i + 2]);
      for (let j = i + 1; j < lines.length; j += 1) {
        put(lines.with(i, lines[j] ?? "").with(j, line));
        expect(faultsOf()[0], `lines ${i + 1} and ${j + 1} changed over`).toEqual(["register-broken", i + 1]);
      }
    }
    put(lines);
    expect(faultsOf()).toEqual([]);
  });

  it("keeps missing what was cut off, however much is added afterwards", () => {
    const lines = fill(4);
    put(lines.slice(0, 3));
    expect(faultsOf()).toEqual([["register-cut", 4]]);
    appendToRegister(folder, [madeEntry("V-9")]);
    appendToRegister(folder, [madeEntry("V-10")]);
    expect(faultsOf()).toEqual([["register-broken", 4]]);
    expect(readRegister(folder).doubtful.map((line) => ("visit" in line ? line.visit : ""))).toEqual([
      "V-9",
      "V-10",
    ]);
  });

  it("keeps missing a last line that was spoiled", () => {
    const lines = fill(3);
    put(lines.with(3, "spoiled"));
    expect(faultsOf()).toEqual([["register-broken", 4]]);
    appendToRegister(folder, [madeEntry("V-9")]);
    expect(faultsOf()[0]).toEqual(["register-broken", 4]);
  });

  it("says that all of it is gone", () => {
    fill(2);
    rmSync(file());
    expect(faultsOf()).toEqual([["register-cut", undefined]]);
    appendToRegister(folder, [madeEntry("V-9")]);
    expect(faultsOf()).toEqual([["register-broken", 1]]);
  });

  it("passes over a line that a kill tore, and says so", () => {
    const lines = fill(3);
    writeFileSync(file(), `${lines.join("\n")}\n${lines[3]?.slice(0, 80)}`);
    expect(faultsOf()).toEqual([["register-torn", 5]]);
    expect(readRegister(folder).lines).toHaveLength(4);
    appendToRegister(folder, [madeEntry("V-4")]);
    expect(faultsOf()).toEqual([["register-torn", 5]]);
    expect(readRegister(folder).lines.map(({ line }) => line)).toEqual([1, 2, 3, 4, 6]);
  });

  it("takes up a line that was written whole just before a kill", () => {
    const lines = fill(3);
    const last = readFileSync(join(folder, "register", "last.json"), "utf8");
    appendToRegister(folder, [madeEntry("V-4")]);
    writeFileSync(join(folder, "register", "last.json"), last);
    writeFileSync(file(), linesOf().join("\n"));
    expect(readRegister(folder)).toMatchObject({ problems: [] });
    appendToRegister(folder, [madeEntry("V-5")]);
    expect(faultsOf()).toEqual([]);
    expect(linesOf()).toHaveLength(lines.length + 2);
  });
});
