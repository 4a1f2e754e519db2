import { describe, expect, it } from "vitest";
import { compose, type Example, examples, knowledge, withVisit, wordsIn } from "./compose.js";

/** Every word by which a disorder may be told: trade names, spellings, and the title of its code. */
function namesOf(id: string): string[] {
  const disorder = knowledge.disorders[id];
  if (!disorder) throw new Error(id);
  const patient = disorder.patient.name.replace(/\s*\(.*$/u, "");
  return [disorder.term, id, ...disorder.also, disorder.icd10.title, disorder.icd10.code, patient];
}

/** In capitals and all, and by its stem: `syphilis` and `syphilitic` alike. */
const STEMS: Record<string, RegExp> = {
  trichotillomania: /trichotill|hair.pulling disorder|compulsi/iu,
  "syphilitic-alopecia": /syphili|venereal|sexual|\bHIV\b/iu,
};

/** What the clinician typed is not ours to hide. */
function withoutTyped(text: string, example: Example): string {
  return example.visit.plan.reduce(
    (rest, line) => rest.replaceAll(line.action, " ").replaceAll(line.when ?? "\0", " "),
    text,
  );
}

const kept = examples.filter((e) => e.visit.impression.some((i) => i.inHandout === false));

describe("a name kept back with in_handout: no", () => {
  it("is tried on both delicate examples", () => {
    const ids = kept.flatMap((e) => e.visit.impression.filter((i) => i.inHandout === false));
    expect(ids.map((i) => i.disorder).sort()).toEqual(["syphilitic-alopecia", "trichotillomania"]);
  });

  it.each(kept.map((e) => [e.name, e] as const))("stands nowhere in the handout of %s", (_, example) => {
    for (const language of ["en-GB", "en-US"]) {
      const handout = compose("handout", example, { language });
      const text = withoutTyped(`${wordsIn(handout.html)} ${handout.title} ${handout.identifiers}`, example);
      for (const i of example.visit.impression.filter((x) => x.inHandout === false)) {
        for (const name of namesOf(i.disorder)) expect(text.toLowerCase()).not.toContain(name.toLowerCase());
        const stem = STEMS[i.disorder];
        if (stem) expect(text).not.toMatch(stem);
        const patient = knowledge.disorders[i.disorder]?.patient;
        for (const line of [...(patient?.is ?? []), ...(patient?.ask ?? []), ...(patient?.next ?? [])])
          expect(text).not.toContain(line);
      }
    }
  });

  it.each(["de", "es"])("stands nowhere in the handout in %s", (language) => {
    for (const example of kept) {
      const text = withoutTyped(wordsIn(compose("handout", example, { language }).html), example);
      expect(text, example.name).not.toMatch(/tri(?:cho|co)til|syphil|sífil|sifil|sexual|\b(?:HIV|VIH)\b/iu);
    }
  });

  it("is never given away for any disorder, whatever else is recorded", () => {
    for (const example of examples) {
      const impression = example.visit.impression.map((i) => ({ ...i, inHandout: false }));
      const handout = compose("handout", withVisit(example, { impression }), { language: "en-GB" });
      const text = withoutTyped(wordsIn(handout.html), example).toLowerCase();
      for (const i of impression) {
        const disorder = knowledge.disorders[i.disorder];
        expect(text, example.name).not.toContain(disorder?.term.toLowerCase());
        expect(text, example.name).not.toContain(disorder?.patient.name.toLowerCase());
      }
      expect(text).toContain("we have not written a name for it here");
    }
  });
});
