/** Diagnostic criteria of 2018 for frontal fibrosing alopecia, from recorded answers (1 yes, 0 no, left out not assessed). */
import { z } from "zod";
import { recordedInputs, type ScoreModule } from "../score-module.js";
import { majorsAndMinors } from "../three-valued.js";

const table = z.object({
  criteria: z.record(z.string(), z.strictObject({ kind: z.enum(["major", "minor"]), says: z.string() })),
  limits: z.string(),
});
type Inputs = Readonly<Record<string, number>>;

export const ffaCriteria = {
  id: "ffa-criteria",
  table,
  collect(visit) {
    const recorded = recordedInputs(visit, "ffa-criteria");
    return recorded ? [{ inputs: recorded }] : [];
  },
  compute(answers, { criteria, limits }) {
    const results = Object.entries(criteria).map(([key, { kind, says }]) => {
      const answer = answers[key];
      return {
        id: key.replaceAll("_", "-"),
        kind,
        says,
        met: answer === undefined ? null : answer > 0,
        worked: answer === undefined ? "not assessed" : answer > 0 ? "yes" : "no",
      };
    });
    const { met, majors, minors } = majorsAndMinors(results, (a, b) => a >= 2 || (a >= 1 && b >= 2));
    return {
      rules: [{ met, criteria: results, says: `${majors} major and ${minors} minor criteria met.`, limits }],
    };
  },
  examples: [
    {
      inputs: { scarring_loss: 1, eyebrow_loss: 1 },
      gives: { "rule:ffa-criteria": true },
      from: "two majors",
    },
    {
      inputs: { scarring_loss: 1, eyebrow_loss: 0, trichoscopy: 1, biopsy: 1, other_sites: 0, papules: 0 },
      gives: { "rule:ffa-criteria": true },
      from: "one major, two minors",
    },
    {
      inputs: { scarring_loss: 1, eyebrow_loss: 0, trichoscopy: 1, biopsy: 0, other_sites: 0, papules: 0 },
      gives: { "rule:ffa-criteria": false },
      from: "one major, one minor",
    },
    {
      inputs: { scarring_loss: 0, eyebrow_loss: 0, trichoscopy: 1, biopsy: 1, other_sites: 1, papules: 1 },
      gives: { "rule:ffa-criteria": false },
      from: "no major, four minors",
    },
    {
      inputs: { scarring_loss: 1, trichoscopy: 1, other_sites: 0, papules: 0 },
      gives: { "rule:ffa-criteria": null, "ffa-criteria.biopsy": null },
      from: "one major, one minor, the rest not assessed",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
