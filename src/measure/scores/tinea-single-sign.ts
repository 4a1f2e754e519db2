/** Tinea capitis: whether at least one of the specific hair signs was seen. */
import { z } from "zod";
import type { ScoreModule } from "../score-module.js";

const table = z.object({ signs: z.array(z.string()).min(1), limits: z.string() });
interface Inputs {
  readonly present: readonly string[];
  readonly absent: readonly string[];
}

export const tineaSingleSign = {
  id: "tinea-single-sign",
  table,
  collect(visit, { signs }) {
    const seen = visit.sites.flatMap((s) => s.findings).filter((f) => signs.includes(f.finding));
    if (seen.length === 0) return [];
    const inState = (state: string) =>
      signs.filter((s) => seen.some((f) => f.finding === s && f.seen.state === state));
    const present = inState("present");
    return [{ inputs: { present, absent: inState("absent").filter((s) => !present.includes(s)) } }];
  },
  compute({ present, absent }, { signs, limits }) {
    const open = signs.filter((s) => !present.includes(s) && !absent.includes(s));
    const met = present.length > 0 ? true : open.length === 0 ? false : null;
    const words = (ids: readonly string[]) => ids.map((s) => s.replaceAll("-", " ")).join(", ");
    const says = {
      true: `At least one specific sign was seen: ${words(present)}.`,
      false: "None of the specific signs was seen.",
      null: `No specific sign was seen, but not every one was looked for: ${words(open)}.`,
    }[`${met}`];
    return {
      rules: [
        {
          met,
          criteria: signs.map((sign) => ({
            id: sign,
            says: words([sign]),
            met: present.includes(sign) ? true : absent.includes(sign) ? false : null,
            kind: "single" as const,
            worked: present.includes(sign)
              ? "seen"
              : absent.includes(sign)
                ? "looked for, not seen"
                : "not assessed",
          })),
          says,
          limits,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { present: ["comma-hairs"], absent: [] },
      gives: { "rule:tinea-single-sign": true, "tinea-single-sign.zigzag-hairs": null },
      from: "the published rule: one sign is enough",
    },
    {
      inputs: {
        present: [],
        absent: ["comma-hairs", "corkscrew-hairs", "zigzag-hairs", "morse-code-hairs"],
      },
      gives: { "rule:tinea-single-sign": false },
      from: "the published rule",
    },
    {
      inputs: { present: [], absent: ["comma-hairs"] },
      gives: { "rule:tinea-single-sign": null },
      from: "three signs were not looked for",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
