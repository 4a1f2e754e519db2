import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { letterFacts } from "../../src/letter/facts.js";
import { letterHelpers } from "../../src/letter/fill-template.js";
import { localise } from "../../src/letter/localise.js";
import { loadPack } from "../../src/letter/pack.js";
import { HELPER_NOTES, type LetterFacts, variablesSchema } from "../../src/letter/variables.js";
import { variablesPage } from "../../src/letter/variables-page.js";
import { clinic, type Example, examples, knowledge } from "./compose.js";

function factsOf(example: Example, forClinician: boolean): LetterFacts {
  const { pack } = loadPack("en-GB");
  if (!pack) throw new Error("en-GB");
  const { visit, change } = example;
  return letterFacts({
    visit,
    clinic,
    ...localise(pack, { ...example, knowledge }),
    words: pack.words,
    recipient: visit.sendTo[0] ?? null,
    change: change ?? null,
    replaces: undefined,
    drawings: {},
    large: false,
    forClinician,
    photos: [
      { id: "p1", siteIndex: 0, caption: "Margin", barMm: 1 },
      { id: "p2", siteIndex: 0, caption: "", barMm: null },
    ],
    hasLogo: false,
  });
}

describe("the variables of a template", () => {
  it.each(examples.map((e) => [e.name, e] as const))("are those documented, in %s", (_, example) => {
    for (const forClinician of [true, false]) {
      const plain: unknown = JSON.parse(JSON.stringify(factsOf(example, forClinician)));
      const read = variablesSchema.safeParse(plain);
      expect(read.error?.issues ?? []).toEqual([]);
    }
  });

  it("have helpers as documented", () => {
    const { pack } = loadPack("en-GB");
    if (!pack) throw new Error("en-GB");
    expect(Object.keys(HELPER_NOTES).sort()).toEqual(Object.keys(letterHelpers(pack.words, {})).sort());
  });

  it("are listed in templates/VARIABLES.md, made anew by npm run templates", async () => {
    await expect(variablesPage()).toMatchFileSnapshot(inPackage("templates", "VARIABLES.md"));
  });

  it("are all explained", () => {
    expect(variablesPage()).not.toMatch(/\| \|$/mu);
    expect(variablesPage()).toContain("| `sites[].present[].term` | text | trade term |");
  });

  it("are the only names that the templates of a visit print", () => {
    const page = variablesPage();
    const known = new Set([...page.matchAll(/`[\w.[\]]*?(\w+)`/gu)].map((m) => m[1]));
    const names = readdirSync(inPackage("templates", "en"))
      .filter((f) => f.endsWith(".hbs") && !f.endsWith(".sheet.hbs"))
      .flatMap((f) => [
        ...readFileSync(inPackage("templates", "en", f), "utf8").matchAll(
          /\{\{(?:#\w+ )?(?:\w+ )?(?:\.\.\/)?([a-z][\w.]*)\}\}/gu,
        ),
      ])
      .map((m) => m[1]?.split(".").pop() ?? "")
      .filter((n) => !["else", "this", "if", "each", "unless", "with"].includes(n));
    expect(names.filter((n) => !known.has(n))).toEqual([]);
  });
});
