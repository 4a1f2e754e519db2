/** ICD-10-CM in letters of the United States: every disorder has its code, and those that part from the list of the WHO are pinned. */
import { expect, test } from "vitest";
import { diseaseCode } from "../../src/knowledge/disease-code.js";
import { loadKnowledge } from "../../src/knowledge/load.js";

const knowledge = loadKnowledge();
const coded = (id: string, language: string) => diseaseCode(id, knowledge, language)?.code;

test("every disorder has a code, read in a source", () => {
  expect(Object.keys(knowledge.icd10cm)).toEqual(Object.keys(knowledge.disorders));
  expect(Object.values(knowledge.icd10cm).every(({ how }) => how === "read")).toBe(true);
});

test("the list of the United States divides what the other leaves whole", () => {
  const parted = Object.keys(knowledge.disorders)
    .filter((id) => coded(id, "en-US") !== coded(id, "en-GB"))
    .map((id) => [id, coded(id, "en-US")]);
  expect(parted).toEqual([
    ["central-centrifugal-cicatricial-alopecia", "L66.81"],
    ["chronic-graft-versus-host-disease", "D89.811"],
    ["erosive-pustular-dermatosis", "L66.89"],
    ["fibrosing-alopecia-in-a-pattern-distribution", "L66.19"],
    ["frontal-fibrosing-alopecia", "L66.12"],
    ["keratosis-follicularis-spinulosa-decalvans", "L66.89"],
    ["lichen-planopilaris", "L66.10"],
    ["nothing-abnormal-found", "Z03.89"],
    ["scalp-dermatomyositis", "M33.10"],
    ["skin-cancer-of-the-scalp", "C44.40"],
    ["syphilitic-alopecia", "A51.39"],
  ]);
  expect(coded("lichen-planopilaris", "es-US")).toBe("L66.1");
});
