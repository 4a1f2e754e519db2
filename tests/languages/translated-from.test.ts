/**
 * Which English text each translation was made from. When an English text changes, this names it: bring German and Spanish
 * in step, then record the new text with `npm run translated`.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { CAUTION_SENTENCES } from "../../src/knowledge/schema.js";

const knowledge = loadKnowledge();

function mark(value: unknown): string {
  return createHash("sha256").update(JSON.stringify(value)).digest("hex").slice(0, 10);
}

function marks<T>(
  entries: Readonly<Record<string, T>>,
  texts: (entry: T) => unknown,
): Record<string, string> {
  return Object.fromEntries(Object.entries(entries).map(([id, entry]) => [id, mark(texts(entry))]));
}

it("every English text is the one that was translated", async () => {
  const words: Record<string, unknown> = parse(
    readFileSync(inPackage("templates", "en", "words.yaml"), "utf8"),
  );
  // A class of medicines is never printed.
  const named = Object.fromEntries(
    Object.entries(knowledge.facts).filter(([, { kind }]) => kind !== "medicine class"),
  );
  const asked = Object.fromEntries(
    Object.entries(knowledge.facts).filter(([, f]) => f.question && f.called_for),
  );
  const made = {
    findings: marks(knowledge.findings, (f) => [f.term, f.plain]),
    disorders: marks(knowledge.disorders, (d) => [d.term, d.letter, d.patient]),
    cautions: marks(knowledge.cautions, (c) => [
      ...[c.term, c.doctor, c.patient, c.clinician],
      ...CAUTION_SENTENCES.flatMap((part) => (c[part] ? [c[part]] : [])),
      ...(c.must_not_miss ? [c.must_not_miss.why, c.must_not_miss.who] : []),
    ]),
    questions: marks(asked, (f) => [f.question, f.called_for?.why]),
    facts: marks(named, (f) => f.term),
    regions: marks(knowledge.regions, (r) => r.plain),
    words: marks(words, (w) => w),
  };
  await expect(`${JSON.stringify(made, null, 2)}\n`).toMatchFileSnapshot("translated-from.json");
});
