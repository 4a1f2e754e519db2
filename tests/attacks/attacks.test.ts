/** Hostile and broken files: each ends in a plain problem, quickly, and never in a throw. */
import { existsSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { readClinic } from "../../src/visit/clinic.js";
import { parseVisit, readVisit } from "../../src/visit/read.js";
import { testKnowledge } from "../visit/test-knowledge.js";

const folder = mkdtempSync(join(tmpdir(), "whorl-attacks-"));
const GOOD = `format: 1
visit: { id: A1, date: 2026-05-05, status: draft, seen_by: a, reason: Sår hud }
patient: { id: P1, name: { given: Åsa, family: Øye }, born: 1991-07-04, sex: female }
sites: [{ site: vertex, findings: { yellow dots: few } }]
`;

const parseIds = (text: string) => [
  ...new Set(
    parseVisit(text, "visit.yaml", testKnowledge)
      .problems.filter((p) => p.severity === "error")
      .map((p) => p.id),
  ),
];

function readIds(name: string, bytes: Uint8Array | string): string[] {
  const file = join(folder, name);
  writeFileSync(file, bytes);
  const { value, problems } = readVisit(file, testKnowledge, { today: "2026-12-01" });
  const errors = problems.filter((p) => p.severity === "error").map((p) => p.id);
  expect(value === undefined).toBe(errors.length > 0);
  return errors;
}

const utf16 = (text: string, bigEndian: boolean, mark = true) => {
  const bytes = Buffer.from(`${mark ? "\ufeff" : ""}${text}`, "utf16le");
  return bigEndian ? bytes.swap16() : bytes;
};

describe("texts", () => {
  const nine = "*a, *a, *a, *a, *a, *a, *a, *a, *a";
  const laughs = `a: &a [lol, lol, lol]
b: &b [${nine}]
${[..."cdefgh"].map((k, i) => `${k}: &${k} [${Array.from({ length: 9 }, () => `*${"bcdefg"[i]}`).join(", ")}]`).join("\n")}`;

  test.each([
    ["nested aliases that grow ninefold", laughs, "too-many-aliases"],
    ["a hundred thousand aliases", `a: &a x\nb: [${"*a, ".repeat(100_000)}]`, "too-many-aliases"],
    ["an alias inside itself", "a: &a [*a]", "too-many-aliases"],
    ["an alias of nothing", "a: *b", "yaml-syntax"],
    ["a hundred thousand brackets", "[".repeat(100_000), "too-deep"],
    ["braces and keys", "{a: ".repeat(50_000), "too-deep"],
    ["dashes on one line", "- ".repeat(200_000), "too-deep"],
    ["question marks on one line", "? ".repeat(200_000), "too-deep"],
    ["a staircase", Array.from({ length: 1000 }, (_, i) => `${" ".repeat(i)}a:`).join("\n"), "too-deep"],
    ["more than a mebibyte", `# ${"x".repeat(1_100_000)}`, "file-too-big"],
    ["a zero byte", `${GOOD}\0`, "not-text"],
    ["nothing", "", "empty-file"],
    ["space and comments", "\n  \n# visit\n---\n", "empty-file"],
    ["a lone surrogate", GOOD.replace("few", '"\\ud800"'), "unknown-word"],
    ["an explicit binary tag", GOOD.replace("few", "!!binary aGk="), "unknown-word"],
    ["a tag of a class", GOOD.replace("few", "!!js/function 'x'"), "unknown-word"],
    ["a merge key", `${GOOD}<<: { format: 2 }`, "unknown-key"],
    ["a key that is a list", `${GOOD}? [a]\n: b`, "yaml-syntax"],
  ])("%s", (_what, text, id) => {
    const start = performance.now();
    expect(parseIds(text)).toContain(id);
    expect(performance.now() - start).toBeLessThan(150_000);
  });

  test("twelve thousand findings nobody knows ends with a bounded list", () => {
    const lines = Array.from({ length: 12_000 }, (_, i) => `      unknown finding ${i}: few`).join("\n");
    const text = GOOD.replace(
      "sites: [{ site: vertex, findings: { yellow dots: few } }]",
      `sites:\n  - site: vertex\n    findings:\n${lines}`,
    );
    const start = performance.now();
    const { problems } = parseVisit(text, "visit.yaml", testKnowledge);
    expect(problems.length).toBeLessThan(300);
    expect(problems.map((p) => p.id)).toContain("too-many-problems");
    expect(performance.now() - start).toBeLessThan(150_000);
  });

  test("names of inner things are keys like any other, and change nothing", () => {
    const text = `${GOOD}__proto__: { polluted: yes }\nconstructor: { prototype: { polluted: yes } }\nscores: { __proto__: { redness: 1 }, constructor: { redness: 1 } }\n`;
    expect(parseIds(text).sort()).toEqual(["unknown-key", "unknown-word"]);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect(parseIds(GOOD.replace("yellow dots", "hasOwnProperty"))).toEqual(["unknown-word"]);
  });

  test("words that YAML 1.1 took for true, false and null stay words", () => {
    const text = GOOD.replace("given: Åsa, family: Øye", "given: No, family: Null").replace(
      "id: P1",
      "id: 0o17",
    );
    const { value } = parseVisit(`%YAML 1.1\n---\n${text}`, "visit.yaml", testKnowledge);
    expect(value?.patient).toMatchObject({ id: "0o17", name: { given: "No", family: "Null" } });
  });
});

describe("files", () => {
  test.each([
    ["utf8.yaml", GOOD],
    ["bom.yaml", `\ufeff${GOOD}`],
    ["crlf.yaml", GOOD.replaceAll("\n", "\r\n")],
    ["cr.yaml", GOOD.replaceAll("\n", "\r")],
    ["utf16le.yaml", utf16(GOOD, false)],
    ["utf16be.yaml", utf16(GOOD, true)],
    ["utf16le-bare.yaml", utf16(GOOD, false, false)],
    ["utf16be-bare.yaml", utf16(GOOD, true, false)],
  ])("%s reads as the same visit", (name, bytes) => {
    expect(readIds(name, bytes)).toEqual([]);
    const value = readVisit(join(folder, name), testKnowledge, { today: "2026-12-01" }).value;
    expect(value).toEqual(parseVisit(GOOD, name, testKnowledge).value);
    expect(value?.patient.name.family).toBe("Øye");
  });

  test("bytes of an old encoding are named with their place", () => {
    writeFileSync(join(folder, "latin1.yaml"), Buffer.from(GOOD, "latin1"));
    const [problem] = readVisit(join(folder, "latin1.yaml"), testKnowledge).problems;
    const column = (GOOD.split("\n")[1]?.indexOf("å") ?? 0) + 1;
    expect(problem).toMatchObject({ id: "not-utf8", line: 2, column });
  });

  test.each([
    [
      "cut short",
      Buffer.from(GOOD, "utf8").subarray(0, Buffer.from(GOOD.split("å")[0] ?? "").length + 1),
      "not-utf8",
    ],
    ["random", Uint8Array.from({ length: 500 }, (_, i) => (i * 7919) % 256), "not-text"],
    ["half of a UTF-16 letter", Buffer.concat([utf16(GOOD, false), Buffer.from([0x41])]), "not-utf8"],
    ["empty", "", "empty-file"],
    ["only a mark", "\ufeff", "empty-file"],
    ["two mebibytes", "x".repeat(2 * 1024 * 1024), "file-too-big"],
  ])("%s", (name, bytes, id) => {
    expect(readIds(`${name}.yaml`, bytes)).toEqual([id]);
  });

  test("a missing file, a folder, a name that cannot be", () => {
    mkdirSync(join(folder, "folder.yaml"), { recursive: true });
    const ids = (name: string) => [
      readVisit(name, testKnowledge).problems.map((p) => p.id),
      readClinic(name).problems.map((p) => p.id),
    ];
    expect(ids(join(folder, "none.yaml"))).toEqual([["missing-file"], ["missing-file"]]);
    expect(ids(join(folder, "folder.yaml"))).toEqual([["not-a-file"], ["not-a-file"]]);
    expect(ids("a\0b")).toEqual([["missing-file"], ["missing-file"]]);
    expect(ids("x".repeat(5000))).toEqual([["missing-file"], ["missing-file"]]);
    expect(ids("")).toEqual([["missing-file"], ["missing-file"]]);
    // A file of the system that is there and cannot be read from its beginning.
    if (existsSync("/proc/self/mem"))
      expect(ids("/proc/self/mem")).toEqual([["unreadable-file"], ["unreadable-file"]]);
    expect(ids("/dev/null")).toEqual([["not-a-file"], ["not-a-file"]]);
  });
});
