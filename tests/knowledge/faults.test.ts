/** Every fault that can be planted in a knowledge file is found, named and placed. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse, stringify } from "yaml";
import { KNOWLEDGE_PROBLEMS } from "../../src/base/problem-table.js";
import { knowledgeFolder, loadKnowledge, readKnowledge } from "../../src/knowledge/load.js";
import { disorderText, findingText, HERE, markedLine, problemsIn, withFolder } from "./planted.js";

const FINDING = "findings/planted.yaml";
const DISORDER = "disorders/planted.yaml";
const row = (fields: string) => `evidence:\n  comma-hairs: [{ ${fields} }] ${HERE}\n`;
const note = (source: string) => `notes:\n  - says: It shines.\n    source: ${source} ${HERE}\n`;
const pattern = (when: string, source = "common practice") =>
  `patterns:\n  - id: one\n    when: ${when} ${HERE}\n    weight: 1\n    says: So it is held.\n    source: ${source}\n`;

interface Fault {
  readonly name: string;
  readonly file: string;
  readonly text: string;
  readonly id: string;
  readonly says: RegExp;
  readonly suggestion?: string;
}

const FAULTS: readonly Fault[] = [
  {
    name: "a lesson on a finding that no file defines",
    file: "lessons.yaml",
    text: `cases: { published: 1, taught: 0 }\nfindings:\n  coma-hairs: { present: {} } ${HERE}\n`,
    id: "unknown-id",
    says: /unknown finding "coma-hairs"/u,
    suggestion: "comma-hairs",
  },
  {
    name: "a lesson on a disorder that no file defines",
    file: "lessons.yaml",
    text: `cases: { published: 1, taught: 0 }\nfindings:\n  comma-hairs:\n    absent:\n      lantern-alopecia: 1 ${HERE}\n`,
    id: "unknown-id",
    says: /unknown disorder "lantern-alopecia"/u,
  },
  {
    name: "a finding that no file defines, in evidence",
    file: DISORDER,
    text: disorderText(`evidence:\n  coma-hairs: [{ percent: 5, source: hu2014, how: abstract }] ${HERE}\n`),
    id: "unknown-id",
    says: /unknown finding "coma-hairs"/u,
    suggestion: "comma-hairs",
  },
  {
    name: "a finding that no file defines, deep in a condition",
    file: DISORDER,
    text: disorderText(pattern("{ all: [{ finding: comma-hairs }, { not: { absent: [yelow-dots] } }] }")),
    id: "unknown-id",
    says: /unknown finding "yelow-dots"/u,
    suggestion: "yellow-dots",
  },
  {
    name: "a disorder that no file defines, in a condition",
    file: DISORDER,
    text: disorderText(pattern("{ impression: lantern-alopecia }")),
    id: "unknown-id",
    says: /unknown disorder "lantern-alopecia"/u,
  },
  {
    name: "a mimic that no file defines",
    file: DISORDER,
    text: disorderText(
      `mimics:\n  - disorder: plantd ${HERE}\n    tell: By the light.\n    source: common practice\n`,
    ),
    id: "unknown-id",
    says: /unknown disorder "plantd"/u,
    suggestion: "planted",
  },
  {
    name: "a caution that no file defines",
    file: DISORDER,
    text: disorderText(`cautions: [beware] ${HERE}\n`),
    id: "unknown-id",
    says: /unknown caution "beware"/u,
  },
  {
    name: "a row whose source is not listed",
    file: DISORDER,
    text: disorderText(row("positive: 1, of: 2, source: hu2041, how: abstract")),
    id: "unknown-source",
    says: /unknown source "hu2041"/u,
    suggestion: "hu2014",
  },
  {
    name: "a note whose second source is not listed",
    file: FINDING,
    text: findingText(note("hu2014; nobody1999")),
    id: "unknown-source",
    says: /unknown source "nobody1999"/u,
  },
  {
    name: "a pattern whose source is not listed",
    file: DISORDER,
    text: disorderText(
      pattern("{ finding: comma-hairs }", `nobody1999 ${HERE}`).replace(` ${HERE}\n    w`, "\n    w"),
    ),
    id: "unknown-source",
    says: /unknown source "nobody1999"/u,
  },
  {
    name: "more patients with the finding than were examined",
    file: DISORDER,
    text: disorderText(row("positive: 12, of: 10, source: hu2014, how: abstract")),
    id: "impossible-count",
    says: /12 of 10/u,
  },
  {
    name: "a row with two figures",
    file: DISORDER,
    text: disorderText(row("positive: 1, of: 10, frequency: common, source: hu2014, how: abstract")),
    id: "evidence-shape",
    says: /exactly one/u,
  },
  {
    name: "a row with no figure",
    file: DISORDER,
    text: disorderText(row("of: 10, source: hu2014, how: abstract")),
    id: "evidence-shape",
    says: /exactly one/u,
  },
  {
    name: "a value from memory passed off as read",
    file: DISORDER,
    text: disorderText(row("positive: 1, of: 10, source: miteva2013-biopsy, how: read")),
    id: "promoted-memory",
    says: /never seen/u,
  },
  {
    name: "a spelling that another finding owns",
    file: FINDING,
    text: findingText().replace("also: [lantern hair]", `also: [Comma-Hair] ${HERE}`),
    id: "same-spelling",
    says: /"comma hair" also means comma-hairs/u,
  },
  {
    name: "a group that does not exist",
    file: FINDING,
    text: findingText().replace("group: hair shaft", `group: hair ${HERE}`),
    id: "wrong-shape",
    says: /hair shaft/u,
  },
  {
    name: "a share above the whole",
    file: FINDING,
    text: findingText().replace("share: 1", `share: 1.2 ${HERE}`),
    id: "wrong-shape",
    says: /<=1/u,
  },
  {
    name: "a key that means nothing",
    file: FINDING,
    text: findingText(`colour: red ${HERE}\n`),
    id: "unknown-key",
    says: /unknown key "colour"/u,
  },
  {
    name: "a key written twice",
    file: FINDING,
    text: findingText(`group: vessel ${HERE}\n`),
    id: "duplicate-key",
    says: /group|unique/iu,
  },
  {
    name: "a red flag without who must act",
    file: "facts/planted.yaml",
    text: `term: lantern light ${HERE}\nkind: red flag\nwhat: Made up.\nplain: a light\nquestion: Is it lit?\nurgency: soon\nsource: common practice\n`,
    id: "fact-shape",
    says: /who must act/u,
  },
  {
    name: "a medicine in a class that is no medicine class",
    file: "medicines.yaml",
    text: `lanternine: { classes: [lantern], source: common practice, how: memory } ${HERE}\n`,
    id: "unknown-id",
    says: /unknown fact "lantern"/u,
  },
  {
    name: "a bracket left open",
    file: FINDING,
    text: findingText().replace("[0, 5], basis", `[0, 5, basis ${HERE}\n #`),
    id: "yaml-syntax",
    says: /./u,
  },
];

describe("a planted fault", () => {
  test.each(FAULTS)("$name", (fault) => {
    const found = problemsIn(fault.file, fault.text).filter((p) => p.id === fault.id);
    expect(found.map((p) => p.message).join("\n")).toMatch(fault.says);
    expect(found[0]?.file?.endsWith(fault.file)).toBe(true);
    if (fault.id !== "yaml-syntax") expect(found.map((p) => p.line)).toContain(markedLine(fault.text));
    expect(found[0]?.line).toBeGreaterThan(0);
    expect(found[0]?.column).toBeGreaterThan(0);
    if (fault.suggestion) expect(found.map((p) => p.suggestion)).toContain(fault.suggestion);
  });

  test("is not found where there is none", () => {
    expect(problemsIn(FINDING, findingText(note("hu2014; common practice")))).toEqual([]);
    expect(
      problemsIn(DISORDER, disorderText(row("positive: 1, of: 2, source: hu2014, how: abstract"))),
    ).toEqual([]);
  });

  test("covers every kind of problem the check knows", () => {
    const tried = new Set([...FAULTS.map((f) => f.id), "unused-source"]);
    expect(Object.keys(KNOWLEDGE_PROBLEMS).filter((id) => !tried.has(id))).toEqual([]);
  });

  test("all faults of a folder come in one go", () => {
    const files = {
      "findings/planted.yaml": findingText("colour: red\n"),
      "disorders/planted.yaml": disorderText("cautions: [beware]\n"),
    };
    const ids = withFolder(files, (folder) => readKnowledge(folder).problems.map((p) => p.id));
    expect(ids).toContain("unknown-key");
    expect(ids).toContain("unknown-id");
  });

  test("a source that nothing cites is a warning and stops nothing", () => {
    const cited = readFileSync(join(knowledgeFolder, "sources.yaml"), "utf8");
    const files = { "sources.yaml": `${cited}nobody1999:\n  citation: A book.\n  access: read\n` };
    const outcome = withFolder(files, readKnowledge);
    const unused = outcome.problems.find((p) => p.message.includes("nobody1999"));
    expect(unused).toMatchObject({ id: "unused-source", severity: "warning" });
    expect(outcome.value).toBeDefined();
  });

  test("makes loadKnowledge throw with file, line and message", () => {
    withFolder({ [FINDING]: findingText("colour: red\n") }, (folder) => {
      expect(() => loadKnowledge(folder)).toThrow(/planted\.yaml:\d+:\d+ unknown key "colour"/u);
    });
  });

  const required = ["term", "group", "what", "plain", "mechanism", "one_alone_counts", "elsewhere"];
  test.each(required)("a finding without `%s` is refused by name", (key) => {
    const { [key]: _gone, ...rest } = parse(findingText()) as Record<string, unknown>;
    const found = problemsIn(FINDING, stringify(rest));
    expect(found.map((p) => [p.id, p.path])).toEqual([["wrong-shape", key]]);
    expect(found[0]?.line).toBe(1);
  });
});

describe("a new file", () => {
  test("shows up in the knowledge under the name of the file", () => {
    const files = {
      "findings/lantern-hairs.yaml": findingText(),
      "disorders/lantern-alopecia.yaml": disorderText(
        "evidence:\n  lantern-hairs: [{ positive: 3, of: 4, source: hu2014, how: abstract }]\n",
      ),
    };
    const before = withFolder({}, readKnowledge).value;
    const after = withFolder(files, readKnowledge).value;
    expect(Object.keys(before?.findings ?? {})).not.toContain("lantern-hairs");
    expect(after?.findings["lantern-hairs"]).toMatchObject({ id: "lantern-hairs", term: "lantern hairs" });
    expect(after?.disorders["lantern-alopecia"]?.evidence["lantern-hairs"]?.[0]?.positive).toBe(3);
    expect(Object.keys(after?.findings ?? {}).length).toBe(Object.keys(before?.findings ?? {}).length + 1);
  });
});
