import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { appendToRegister } from "../../src/register/append.js";
import { documentsIn } from "../../src/register/documents.js";
import { knownEditions, replacedDay } from "../../src/register/editions.js";
import { eraseFromRegister } from "../../src/register/erase.js";
import { contentOf, keepContent, keptHashes } from "../../src/register/kept.js";
import type { CallerEntry, RegisterLine } from "../../src/register/line.js";
import { mergeRegister } from "../../src/register/merge.js";
import { named } from "../../src/register/pick.js";
import { readRegister } from "../../src/register/read.js";
import { markSent, withdraw } from "../../src/register/sending.js";
import { madeEntry, signedEntry } from "./entries.js";

let root = "";
let here = "";
let there = "";
const SENT = { by: "wen-castellane", how: "post", on: "2026-03-13" };

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), "whorl-register-"));
  here = join(root, "here");
  there = join(root, "there");
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

const add = (folder: string, ...visits: string[]) =>
  appendToRegister(
    folder,
    visits.map((visit) => madeEntry(visit)),
  );
const visitsOf = (folder: string) =>
  readRegister(folder).lines.flatMap((line) => ("visit" in line ? [line.visit] : [line.kind]));
const linesOf = (folder: string) =>
  readFileSync(join(folder, "register.jsonl"), "utf8").trimEnd().split("\n");
const put = (folder: string, lines: readonly string[]) =>
  writeFileSync(join(folder, "register.jsonl"), `${lines.join("\n")}\n`);
const errorsOf = (folder: string) =>
  readRegister(folder).problems.filter(({ severity }) => severity === "error");
const split = (...visits: string[]) => {
  add(here, ...visits);
  cpSync(here, there, { recursive: true });
};

describe("two copies of a register", () => {
  it("become one that holds both histories, with both ends named", () => {
    split("P");
    add(here, "A1", "A2");
    add(there, "B1", "B2");
    const ends = [readRegister(here), readRegister(there)].map(({ lines }) => lines.at(-1)?.hash);
    expect(mergeRegister(here, there, "wen")).toEqual({ kind: "merged", taken: 2, contents: 0 });
    expect(visitsOf(here)).toEqual(["begun", "P", "A1", "A2", "B1", "B2", "merged"]);
    expect(readRegister(here).problems).toEqual([]);
    expect(readRegister(here).lines.at(-1)).toMatchObject({ kind: "merged", by: "wen", previous: ends });
    add(here, "C");
    expect(readRegister(here).problems).toEqual([]);
    expect(mergeRegister(here, there, "")).toEqual({ kind: "merged", taken: 0, contents: 0 });
  });

  it("need no merged line where one only went on", () => {
    split("P");
    add(there, "B1", "B2");
    mergeRegister(here, there, "");
    expect(linesOf(here)).toEqual(linesOf(there));
    expect(readRegister(here).problems).toEqual([]);
  });

  it("may be merged to and fro, and within one another", () => {
    split("P");
    add(here, "A1");
    add(there, "B1");
    const third = join(root, "third");
    cpSync(there, third, { recursive: true });
    add(third, "C1");
    mergeRegister(there, here, "");
    add(there, "B2");
    add(here, "A2");
    mergeRegister(third, here, "");
    mergeRegister(here, there, "");
    mergeRegister(here, third, "");
    mergeRegister(there, here, "");
    for (const folder of [here, there, third]) expect(readRegister(folder).problems).toEqual([]);
    const made = visitsOf(here).filter((visit) => visit !== "begun" && visit !== "merged");
    expect([...made].sort()).toEqual(["A1", "A2", "B1", "B2", "C1", "P"]);
    expect(linesOf(there)).toEqual(linesOf(here));
  });

  it("are still watched line by line once they are one", () => {
    split("P");
    add(here, "A1");
    add(there, "B1", "B2");
    mergeRegister(here, there, "");
    add(here, "C");
    const lines = linesOf(here);
    for (const [i, line] of lines.entries()) {
      put(here, lines.toSpliced(i, 1));
      expect(errorsOf(here), `without line ${i + 1}`).not.toEqual([]);
      for (let j = i + 1; j < lines.length; j += 1) {
        put(here, lines.with(i, lines[j] ?? "").with(j, line));
        expect(errorsOf(here), `lines ${i + 1} and ${j + 1} changed over`).not.toEqual([]);
      }
    }
    put(here, lines);
    expect(errorsOf(here)).toEqual([]);
  });

  it("are refused when the other is broken, began elsewhere, or is none", () => {
    split("P", "Q");
    expect(mergeRegister(here, join(root, "nowhere"), "")).toMatchObject({ kind: "refused" });
    const stranger = join(root, "stranger");
    add(stranger, "S");
    expect(mergeRegister(here, stranger, "")).toMatchObject({
      problems: [{ id: "register-not-merged", message: "it began elsewhere: no line is in both" }],
    });
    put(there, linesOf(there).toSpliced(1, 1));
    expect(mergeRegister(here, there, "")).toMatchObject({ problems: [{ id: "register-broken", line: 2 }] });
    expect(visitsOf(here)).toEqual(["begun", "P", "Q"]);
  });

  it("give back what was cut off", () => {
    split("P", "Q");
    put(here, linesOf(here).slice(0, 2));
    expect(errorsOf(here)).toMatchObject([{ id: "register-cut", line: 3 }]);
    mergeRegister(here, there, "");
    expect(readRegister(here).problems).toEqual([]);
    expect(visitsOf(here)).toEqual(["begun", "P", "Q"]);
  });
});

describe("a document", () => {
  const states = (lines: readonly RegisterLine[]) => documentsIn(lines).map(({ state }) => state);
  const put = (...entries: CallerEntry[]) => appendToRegister(here, entries);
  const all = () => readRegister(here).lines;
  const hashes = () => documentsIn(all()).map(({ made }) => made.hash);

  it("waits until it is sent, and is sent once", () => {
    put(madeEntry("V"), madeEntry("W"));
    expect(states(all())).toEqual(["waiting", "waiting"]);
    const [first = ""] = hashes();
    expect(markSent(here, [first], SENT)).toHaveLength(1);
    expect(markSent(here, [first], SENT)).toEqual([]);
    expect(states(all())).toEqual(["sent", "waiting"]);
    expect(documentsIn(all())[0]?.sent).toMatchObject([{ ...SENT, visit: "V", of: first }]);
  });

  it("is replaced by a later one for the same reader, and no other", () => {
    const other = { name: "Dr Tomos Achterberg", role: "general practitioner", copy: true };
    put(
      madeEntry("V"),
      madeEntry("V", { addressee: other }),
      madeEntry("V", { document: "handout", addressee: null }),
      madeEntry("V", { edition: 2, seal: "1-y" }),
    );
    expect(states(all())).toEqual(["replaced", "waiting", "waiting", "waiting"]);
  });

  it("made once more of one edition is not to be sent beside the one that was", () => {
    put(madeEntry("V"));
    markSent(here, hashes(), SENT);
    put(madeEntry("V", { sha256: "cd".repeat(32) }));
    expect(states(all())).toEqual(["sent", "replaced"]);
    put(madeEntry("V", { edition: 2, seal: "1-y" }));
    expect(states(all())).toEqual(["sent", "replaced", "waiting"]);
  });

  it("that is withdrawn leaves its place to the one before", () => {
    put(madeEntry("V"), madeEntry("V", { sha256: "cd".repeat(32) }));
    const [, second = ""] = hashes();
    withdraw(here, [second], { by: "wen", reason: "wrong paper" });
    expect(states(all())).toEqual(["waiting", "withdrawn"]);
  });

  it("is found by visit, by the first figures of its hash, and by its print run", () => {
    put(madeEntry("V"), madeEntry("W", { sha256: "cd".repeat(32) }));
    const made = hashes();
    const run = "ef".repeat(32);
    put({
      kind: "printed",
      at: "2026-03-12T15:00:00Z",
      by: "",
      name: "t.pdf",
      sha256: run,
      pages: 4,
      documents: made,
    });
    const found = (what: string) => named(all(), what).map((one) => one.made.visit);
    expect(found("W")).toEqual(["W"]);
    expect(found("cdcdcd")).toEqual(["W"]);
    expect(found("cdcdc")).toEqual([]);
    expect(found(run)).toEqual(["V", "W"]);
    put(madeEntry("X", { sha256: `cdcdcd${"0".repeat(58)}` }));
    expect(found("cdcdcd")).toEqual([]);
  });
});

describe("a new edition", () => {
  const brandt = { name: "Dr Ilse  Brandt", role: "General practitioner" };
  const known = (...entries: CallerEntry[]) => {
    appendToRegister(here, entries);
    return knownEditions(readRegister(here).lines, "V");
  };

  it("replaces the last letter that its reader had of an earlier one", () => {
    const editions = known(
      signedEntry("V"),
      madeEntry("V", { dated: "2026-03-12" }),
      signedEntry("V", { edition: 2 }),
      madeEntry("V", { edition: 2, dated: "2026-04-01" }),
      madeEntry("W", { dated: "2026-05-01" }),
    );
    expect(replacedDay(editions, 3, brandt)).toBe("2026-04-01");
    expect(replacedDay(editions, 2, brandt)).toBe("2026-03-12");
  });

  it("replaces nothing for a reader who had none, as far as every signature is known", () => {
    const editions = known(signedEntry("V"), madeEntry("V", { dated: "2026-03-12" }));
    const school = { name: "The head", role: "school" };
    expect(replacedDay(editions, 2, school)).toBeNull();
    expect(replacedDay(editions, 3, school)).toBeUndefined();
    expect(replacedDay(editions, 2, null)).toBeNull();
    expect(replacedDay({ letters: [], signed: [] }, 2, brandt)).toBeUndefined();
  });
});

describe("a patient who leaves", () => {
  const keep = (text: string) => keepContent(here, [{ bytes: Buffer.from(text), kind: "pdf" }])[0] ?? "";
  const OTHER = { patient: "TS-2" };

  it("takes the content along; hashes stay, the chain holds, and others keep theirs", () => {
    const [own, others, shared] = [keep("own"), keep("others"), keep("shared")];
    appendToRegister(here, [
      madeEntry("V", { sha256: own }),
      madeEntry("V", { sha256: shared, document: "handout", addressee: null }),
      madeEntry("W", { ...OTHER, sha256: others }),
      madeEntry("W", { ...OTHER, sha256: shared, document: "handout", addressee: null }),
    ]);
    markSent(here, [documentsIn(readRegister(here).lines)[0]?.made.hash ?? ""], SENT);
    const before = readRegister(here).lines.map(({ hash }) => hash);
    expect(eraseFromRegister(here, "TS-40417", { by: "wen", reason: "asked" })).toEqual({
      lines: 3,
      contents: 1,
    });
    const { lines, problems } = readRegister(here);
    expect(problems).toEqual([]);
    expect(lines.map(({ kind }) => kind)).toEqual([
      "begun",
      "gone",
      "gone",
      "made",
      "made",
      "gone",
      "erased",
    ]);
    expect(lines.slice(0, -1).map(({ hash }) => hash)).toEqual(before);
    expect(keptHashes(here).sort()).toEqual([others, shared].sort());
    expect(contentOf(here, others)?.bytes.toString()).toBe("others");
    const text = readFileSync(join(here, "register.jsonl"), "utf8");
    for (const word of ["TS-40417", "Brandt, V", own]) expect(text).not.toContain(word);
    put(here, linesOf(here).toSpliced(1, 1));
    expect(errorsOf(here)).toMatchObject([{ id: "register-broken", line: 2 }]);
  });

  it("does not come back with a copy that still holds it", () => {
    appendToRegister(here, [madeEntry("V", { sha256: keep("own") })]);
    cpSync(here, there, { recursive: true });
    appendToRegister(there, [madeEntry("V2", { sha256: "cd".repeat(32), ...OTHER })]);
    eraseFromRegister(here, "TS-40417", { by: "wen", reason: "asked" });
    mergeRegister(here, there, "");
    expect(readRegister(here).lines.map(({ kind }) => kind)).toEqual([
      "begun",
      "gone",
      "erased",
      "made",
      "merged",
    ]);
    expect(keptHashes(here)).toEqual([]);
    mergeRegister(there, here, "");
    expect(readFileSync(join(there, "register.jsonl"), "utf8")).not.toContain("TS-40417");
    expect(readRegister(there).problems).toEqual([]);
    expect(keptHashes(there)).toEqual([]);
  });
});
