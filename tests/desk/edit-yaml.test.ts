import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { CannotEdit, editText, writtenIn } from "../../src/desk/edit-yaml.js";
import { mapIn, wordIn } from "../../src/desk/read-listed.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import { root } from "../house/source-files.js";

const schema = visitJsonSchema(loadKnowledge());
const patients = join(root, "examples", "patients");
const examples = readdirSync(patients, { recursive: true, encoding: "utf8" })
  .filter((name) => /(?<!\.marks)\.yaml$/u.test(name))
  .map((name) => ({ name, text: readFileSync(join(patients, name), "utf8") }));

/** Lines of `after` that `before` does not have, and the other way round. */
function changed(before: string, after: string): { gone: string[]; come: string[] } {
  const [old, now] = [before.split("\n"), after.split("\n")];
  return { gone: old.filter((l) => !now.includes(l)), come: now.filter((l) => !old.includes(l)) };
}

const COMMENTED = `# Seen on a stormy Thursday.   Do not lose.
format: 1

visit:
  id: 0141        # the book says so
  date: "2026-03-12"
  seen_by: anneli-thorsby
  reason: 'Odd, quoted'
patient:
  id: TS-1
  name: {given: Marit,family: Sol}
  born: 1991-07-04
sites:
- site: vertex   # crown
  findings:
    # seen first
    yellow dots: few
    black dots:   none # looked twice
plan:
- {who: patient, action: "Wait."}
`;

describe("an edit of a visit file", () => {
  it("touches one line of a file with comments and habits of its own", () => {
    const after = editText(
      COMMENTED,
      [{ do: "set", path: ["visit", "reason"], value: "A new patch." }],
      schema,
    );
    expect(changed(COMMENTED, after)).toEqual({
      gone: ["  reason: 'Odd, quoted'"],
      come: ["  reason: 'A new patch.'"],
    });
  });

  it("keeps leading zeros, quotes and spacing of lines beside it", () => {
    const after = editText(COMMENTED, [{ do: "set", path: ["patient", "sex"], value: "female" }], schema);
    expect(changed(COMMENTED, after)).toEqual({ gone: [], come: ["  sex: female"] });
    expect(after).toContain("  id: 0141        # the book says so");
    expect(after.indexOf("born")).toBeLessThan(after.indexOf("sex"));
  });

  it("keeps the comment of a finding whose amount changes", () => {
    const path = ["sites", 0, "findings", "black dots"];
    const after = editText(COMMENTED, [{ do: "set", path, value: "several" }], schema);
    expect(after).toContain("black dots: several # looked twice");
    expect(after).toContain("    # seen first\n    yellow dots: few");
  });

  it("puts a new key where the format lists it and short rows on one line", () => {
    const after = editText(
      COMMENTED,
      [
        { do: "set", path: ["history", "symptoms", "itch"], value: 3 },
        { do: "set", path: ["pull_test", 0], value: { anagen: 1, site: "vertex", pulled: 60, came_out: 4 } },
        { do: "set", path: ["sites", 0, "patch", "length_mm"], value: 12 },
        { do: "set", path: ["sites", 1], value: { site: "nape", at: { x: 0.2, y: 0.4 } } },
        { do: "set", path: ["impression", 0, "disorder"], value: "alopecia areata" },
      ],
      schema,
    );
    expect(Object.keys(writtenIn(after) ?? {})).toEqual([
      "format",
      "visit",
      "patient",
      "history",
      "pull_test",
      "sites",
      "impression",
      "plan",
    ]);
    expect(after).toContain("history:\n  symptoms: { itch: 3 }\n");
    expect(after).toContain("{ site: vertex, pulled: 60, came_out: 4, anagen: 1 }");
    expect(after).toContain("site: nape\n");
    expect(after).toContain("at: { x: 0.2, y: 0.4 }");
    expect(after).toContain("# looked twice");
  });

  it("removes a place together with what it leaves empty", () => {
    const made = editText(COMMENTED, [{ do: "set", path: ["extent", "top"], value: 10 }], schema);
    expect(made).toContain("extent: { top: 10 }");
    expect(editText(made, [{ do: "remove", path: ["extent", "top"] }], schema)).toBe(COMMENTED);
    expect(editText(COMMENTED, [{ do: "remove", path: ["history", "onset"] }], schema)).toBe(COMMENTED);
  });

  it("writes text that YAML could misread so that it reads back as typed", () => {
    for (const value of [
      "null",
      "~",
      "# no comment",
      "a: b",
      "- x",
      "it's",
      '"so"',
      "two\nlines\n\nand more",
      "*x",
      "{",
      "yes",
      "  ",
    ]) {
      const after = editText(COMMENTED, [{ do: "set", path: ["history", "notes"], value }], schema);
      expect(writtenIn(after)?.history, value).toEqual({ notes: value });
    }
  });

  it("is refused where an alias repeats the place, in either", () => {
    const text = "history: &h { notes: shared }\nexamination: *h\nvisit: { id: A }\n";
    const change = (path: string[]) => () => editText(text, [{ do: "set", path, value: "mine" }], schema);
    expect(change(["history", "notes"])).toThrow(CannotEdit);
    expect(change(["examination", "nails"])).toThrow(CannotEdit);
    expect(() => editText(text, [{ do: "remove", path: ["history"] }], schema)).toThrow(CannotEdit);
    expect(change(["visit", "id"])()).toBe(text.replace("id: A", "id: mine"));
  });

  it("drops quotes that the old text needed and keeps those that somebody chose", () => {
    const write = (text: string) =>
      editText(text, [{ do: "set", path: ["visit", "reason"], value: "Plain." }], schema);
    expect(write('visit: { reason: "ends in a blank " }\n')).toBe("visit: { reason: Plain. }\n");
    expect(write('visit: { reason: "chosen" }\n')).toBe('visit: { reason: "Plain." }\n');
  });

  it("begins a file from nothing", () => {
    const after = editText(
      "",
      [
        { do: "set", path: ["format"], value: 1 },
        { do: "set", path: ["visit", "id"], value: "0007" },
      ],
      schema,
    );
    expect(after).toBe("format: 1\nvisit:\n  id: 0007\n");
  });

  it("keeps a byte order mark and Windows line ends", () => {
    const windows = `\ufeff${COMMENTED.replaceAll("\n", "\r\n")}`;
    const after = editText(windows, [{ do: "set", path: ["visit", "status"], value: "draft" }], schema);
    expect(after).toBe(windows.replace("  seen_by:", "  status: draft\r\n  seen_by:"));
  });

  it.each(examples)("changes one line of $name and changes it back", ({ text }) => {
    const path = ["visit", "reason"];
    const reason = wordIn(mapIn(writtenIn(text) ?? {}, "visit"), "reason");
    const after = editText(text, [{ do: "set", path, value: `${reason} Twice` }], schema);
    expect(changed(text, after).gone).toHaveLength(1);
    expect(changed(text, after).come).toHaveLength(1);
    expect(editText(after, [{ do: "set", path, value: reason }], schema)).toBe(text);
  });

  it.each(examples)("adds a finding to $name and takes it away again", ({ text }) => {
    const path = ["sites", 0, "findings", "brush breaks"];
    const after = editText(text, [{ do: "set", path, value: "few" }], schema);
    expect(changed(text, after)).toEqual({ gone: [], come: ["      brush breaks: few"] });
    expect(editText(after, [{ do: "remove", path }], schema)).toBe(text);
  });
});
