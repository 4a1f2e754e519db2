/** The JSON Schema and the reader agree: on every good file, and on every spoiled file whose slip a schema can see. */
import { readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { Ajv } from "ajv";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { clinicJsonSchema, visitJsonSchema } from "../../src/visit/json-schema.js";
import { type ProblemId, problemKind } from "../../src/visit/problems.js";
import { parseVisit } from "../../src/visit/read.js";
import { testKnowledge } from "./test-knowledge.js";

const ajv = new Ajv({
  allErrors: true,
  strict: true,
  strictTypes: true,
  strictTuples: true,
  strictRequired: true,
});
const fits = ajv.compile(visitJsonSchema(testKnowledge));

const yamlFiles = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => /(?<!\.marks)\.yaml$/u.test(file))
    .map((file) => join(folder, file));

/** Slips that stop YAML, and those in which no rule of one value is broken, are beyond a schema. */
function beyondSchema(text: string): boolean {
  try {
    parse(text);
    return false;
  } catch {
    return true;
  }
}

describe("the schema of visit files", () => {
  test.each(yamlFiles(inPackage("tests", "good")))("takes %s", (file) => {
    expect(fits(parse(readFileSync(file, "utf8"))), JSON.stringify(fits.errors)).toBe(true);
  });

  const spoiled = yamlFiles(inPackage("tests", "bad")).filter(
    (file) => !beyondSchema(readFileSync(file, "utf8")),
  );
  test.each(spoiled.map((file) => [basename(file), file]))("agrees on %s", (_name, file) => {
    const text = readFileSync(file, "utf8");
    const { problems } = parseVisit(text, file, testKnowledge, { today: "2026-12-01" });
    const seen = problems.some((p) => p.severity === "error" && problemKind(p.id as ProblemId).schemaSees);
    expect(fits(parse(text)), JSON.stringify(fits.errors?.slice(0, 4))).toBe(!seen);
  });

  test("takes the examples, with the shipped knowledge", () => {
    const takes = ajv.compile(visitJsonSchema(loadKnowledge()));
    for (const file of yamlFiles(inPackage("examples", "patients")))
      expect(takes(parse(readFileSync(file, "utf8"))), `${file} ${JSON.stringify(takes.errors)}`).toBe(true);
  });

  test("has patterns that validators of other languages can read", () => {
    const patterns = [
      ...JSON.stringify([visitJsonSchema(loadKnowledge()), clinicJsonSchema()]).matchAll(
        /"(?:pattern"):"((?:[^"\\\\]|\\\\.)*)"/gu,
      ),
    ].map((m) => JSON.parse(`"${m[1]}"`) as string);
    expect(patterns.length).toBeGreaterThan(50);
    for (const pattern of patterns) {
      expect(pattern).not.toMatch(/\\[pP]\{|\(\?<[=!]|\\u\{/u);
      expect(() => new RegExp(pattern, "u")).not.toThrow();
    }
  });

  test("says what each finding is", () => {
    const schema = JSON.stringify(visitJsonSchema(testKnowledge));
    expect(schema).toContain('"yellow dots":{"description":"yellow dots, as seen."');
  });

  test("lists words for completion and describes every key", () => {
    const json = JSON.stringify(visitJsonSchema(testKnowledge));
    for (const word of [
      "exclamation mark hairs",
      "alopecia areata",
      "left parietal",
      "throughout",
      "Fitzpatrick",
    ])
      expect(json).toContain(word);
    expect(undescribed(visitJsonSchema(testKnowledge), "")).toEqual([]);
    expect(undescribed(clinicJsonSchema(), "")).toEqual([]);
  });
});

test("the schema of clinic files takes the example and refuses a slip", () => {
  const takes = ajv.compile(clinicJsonSchema());
  const clinic: unknown = parse(readFileSync(inPackage("examples", "clinic.yaml"), "utf8"));
  expect(takes(clinic), JSON.stringify(takes.errors)).toBe(true);
  expect(takes({ ...(clinic as object), phone: "ask" })).toBe(false);
  expect(takes({ ...(clinic as object), people: { a: { name: "A" } } })).toBe(false);
});

/** Paths of properties without a description. */
function undescribed(json: unknown, path: string): string[] {
  if (json === null || typeof json !== "object") return [];
  return Object.entries(json).flatMap(([key, value]) => {
    if (key === "definitions" || key === "patternProperties" || key === "additionalProperties") return [];
    if (key !== "properties") return undescribed(value, `${path}/${key}`);
    return Object.entries(value as Record<string, Record<string, unknown>>).flatMap(([name, property]) => [
      ...(property.description === undefined && property.$ref === undefined && !path.endsWith("scores")
        ? [`${path}/${name}`]
        : []),
      ...undescribed(property, `${path}/${name}`),
    ]);
  });
}
