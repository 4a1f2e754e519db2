/** Visits not used in making the rules, each with what must and must not be raised and printed. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { BANDS } from "../../src/interpret/interpretation.js";
import { root } from "../house/source-files.js";
import { someEntries } from "../runs.js";
import { examined, textsOf, visitOf } from "./visits.js";

const some = z.array(z.string()).default([]);
const lines = z.array(z.union([z.string(), z.array(z.string())])).default([]);
const one = z.strictObject({
  name: z.string(),
  kind: z.string(),
  why: z.string(),
  visit: z.record(z.string(), z.unknown()),
  expect: z.strictObject({
    raised: lines,
    open: lines,
    closed: some,
    not_raised: some,
    urgency_at_least: z.string().optional(),
    asked_for: lines,
    not_supported_above: z.enum(BANDS).optional(),
    leads_not: some,
    next_not_first: some,
    agreement_not: some,
    letter_must_say: some,
    letter_must_not_say: some,
    handout_must_say: some,
    handout_must_not_say: some,
  }),
});
const visits = [
  "independent.yaml",
  "second-look.yaml",
  "third-look.yaml",
  "fourth-look.yaml",
  "fifth-look.yaml",
  "sixth-look.yaml",
  "seventh-look.yaml",
  "eighth-look.yaml",
  "ninth-look.yaml",
  "tenth-look.yaml",
  "eleventh-look.yaml",
  "twelfth-look.yaml",
].flatMap((name) => z.array(one).parse(someEntries(join(root, "tests", "hazards", name), 0.2)));
const URGENCY = ["soon", "days", "same day", "now"];
const either = (wanted: string | string[]) => [wanted].flat().flatMap((w) => w.split("|"));

describe.each(visits)("$name", ({ visit: parts, expect: wanted }) => {
  const seen = examined(visitOf(parts));
  const { mustNotMiss, askedFor, disorders, lookNext, agreement } = seen.interpretation;
  const ids = mustNotMiss.map((m) => m.id);
  const open = mustNotMiss.filter((m) => m.closedBy === null).map((m) => m.id);

  it("raises what it must and nothing else", () => {
    for (const id of wanted.raised)
      expect(
        ids.some((x) => either(id).includes(x)),
        `${id}`,
      ).toBe(true);
    for (const id of wanted.open)
      expect(
        open.some((x) => either(id).includes(x)),
        `${id}`,
      ).toBe(true);
    for (const id of wanted.closed) expect(open).not.toContain(id);
    for (const id of wanted.not_raised) {
      if (id === "any") expect(open).toEqual([]);
      else expect(open).not.toContain(id);
    }
    for (const id of wanted.asked_for)
      expect(
        askedFor.some((a) => either(id).includes(a.id)),
        `${id}`,
      ).toBe(true);
    if (wanted.urgency_at_least) {
      const meant = [...wanted.raised, ...wanted.open].flatMap(either);
      const found = mustNotMiss.filter((m) => meant.length === 0 || meant.includes(m.id));
      const most = Math.max(...found.map((m) => URGENCY.indexOf(m.urgency)));
      expect(most).toBeGreaterThanOrEqual(URGENCY.indexOf(wanted.urgency_at_least));
    }
  });

  it("concludes no more than it may", () => {
    const most = wanted.not_supported_above;
    if (most) {
      const above = disorders.filter((d) => BANDS.indexOf(d.band) < BANDS.indexOf(most));
      expect(above.map((d) => d.id)).toEqual([]);
    }
    for (const id of wanted.leads_not) expect(disorders[0]?.id).not.toBe(id);
    const first = lookNext.slice(0, 3).map((l) => `${l.lookFor} ${l.says}`);
    for (const words of wanted.next_not_first)
      expect(first.filter((l) => new RegExp(words, "iu").test(l))).toEqual([]);
    for (const verdict of wanted.agreement_not) expect(agreement?.verdict).not.toBe(verdict);
  });

  const printed = [
    ["referral-letter", wanted.letter_must_say, wanted.letter_must_not_say],
    ["handout", wanted.handout_must_say, wanted.handout_must_not_say],
  ] as const;
  const asked = printed.filter(([, must, not]) => must.length + not.length > 0);
  if (asked.length > 0)
    it("prints what it must and nothing that it must not", async () => {
      const text = await textsOf(
        seen,
        asked.map(([kind]) => kind),
      );
      for (const [kind, must, not] of asked) {
        for (const words of must) expect(text(kind)).toMatch(new RegExp(words, "iu"));
        for (const words of not) expect(text(kind)).not.toMatch(new RegExp(words, "iu"));
      }
    });
});
