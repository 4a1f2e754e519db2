/** A new disorder touches these files and no others; one that is not yet in all of them is told what is still to do. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { knowledgeLanguages, loadKnowledge, readLanguage } from "../../src/knowledge/load.js";
import { root } from "./source-files.js";

const knowledge = loadKnowledge();
const TRANSLATED = "tests/languages/translated-from.json";
const languages = knowledgeLanguages().map((language) => [language, readLanguage(language).value] as const);
const translated: { readonly disorders: Readonly<Record<string, string>> } = JSON.parse(
  readFileSync(join(root, TRANSLATED), "utf8"),
);

/** What is still to do for a disorder of src/knowledge/disorders. */
function toDo(id: string): string[] {
  return [
    ...(knowledge.icd10cm[id] ? [] : [`src/knowledge/icd-10-cm.yaml: add ${id}`]),
    ...languages.flatMap(([language, texts]) =>
      texts?.disorders[id] ? [] : [`src/knowledge/languages/${language}/disorders.yaml: add ${id}`],
    ),
    ...(translated.disorders[id] ? [] : [`${TRANSLATED}: run npm run translated`]),
  ];
}

it("every disorder is in every file that lists them", () => {
  expect(Object.keys(knowledge.disorders).flatMap(toDo)).toEqual([]);
});

it("a disorder that is in none of them is told each file, and the command that writes the last", () => {
  expect(toDo("island-alopecia")).toEqual([
    "src/knowledge/icd-10-cm.yaml: add island-alopecia",
    "src/knowledge/languages/de/disorders.yaml: add island-alopecia",
    "src/knowledge/languages/es/disorders.yaml: add island-alopecia",
    `${TRANSLATED}: run npm run translated`,
  ]);
});
