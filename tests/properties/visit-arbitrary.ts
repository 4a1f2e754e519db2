/** Visits that hold together, for property tests. */

import fc from "fast-check";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { amountOfCount } from "../../src/visit/findings-map.js";
import { badCharacter, showsNothing } from "../../src/visit/safe-text.js";
import {
  AMOUNTS,
  CERTAINTIES,
  type CountedField,
  PHOTOTYPES,
  PURPOSES,
  REGIONS,
  SEXES,
  type Seen,
  type Site,
  URGENCIES,
  type Visit,
} from "../../src/visit/visit.js";
import { withoutUndefined } from "../../src/visit/without-undefined.js";

/** Any text the reader takes as it stands: trimmed, composed, without marks that show nothing. */
const text = (most: number) =>
  fc
    .string({ unit: "grapheme", minLength: 1, maxLength: most })
    .map((s) =>
      s
        .normalize("NFC")
        .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Cn}\p{Co}\p{Z}\ufff0-\uffff]+/gu, " ")
        .trim(),
    )
    .filter((s) => s.length > 0 && s.length <= most && !showsNothing(s) && badCharacter(s) === undefined);
const awkward = fc.constantFrom(
  "null",
  "no",
  "~x",
  "0141",
  "1e3",
  "- a",
  "a: b",
  "# not a comment",
  'it\'s "so"',
  "{x}",
  "[y",
  "*z",
  "&a",
  "!b",
  "%c",
  "@d",
  "`e`",
  "? f",
  "| g",
  "> h",
  "a #b",
  "2026-01-01",
  "true",
  "\\n",
  "a\u00a0b",
  "x, y",
);
const line = fc.oneof(
  text(40),
  awkward.filter((s) => s !== "null"),
);
const prose = fc.array(line, { minLength: 1, maxLength: 3 }).map((lines) => lines.join("\n"));
const some = <T>(arbitrary: fc.Arbitrary<T>) => fc.option(arbitrary, { nil: undefined });
const list = <T>(arbitrary: fc.Arbitrary<T>, most = 3) => fc.array(arbitrary, { maxLength: most });
const id = fc
  .stringMatching(/^[A-Za-z0-9][A-Za-z0-9-]{0,12}[A-Za-z0-9]$/u)
  .filter((s) => !/^(?:con|prn|aux|nul|com\d|lpt\d)$/iu.test(s));
const day = (from: string, to: string) =>
  fc
    .integer({ min: Date.parse(from) / 86_400_000, max: Date.parse(to) / 86_400_000 })
    .map((n) => new Date(n * 86_400_000).toISOString().slice(0, 10));
const tenth = (most: number) => fc.integer({ min: 0, max: most * 10 }).map((n) => n / 10);

const field: fc.Arbitrary<CountedField> = fc
  .record({
    thin: some(fc.nat(40)),
    vellus: some(fc.nat(20)),
    more: fc.nat(200),
    units: some(fc.dictionary(fc.constantFrom("1", "2", "3", "4"), fc.nat(30), { minKeys: 1 })),
    yellowDots: some(fc.nat(20)),
    discolouredOpenings: some(fc.nat(20)),
    counted: fc.boolean(),
  })
  .map(({ thin, vellus, more, units, yellowDots, discolouredOpenings, counted }) => {
    const inUnits = Object.entries(units ?? {}).reduce((sum, [size, n]) => sum + Number(size) * n, 0);
    const hairs = counted ? Math.max(thin ?? 0, vellus ?? 0, inUnits) + more : undefined;
    return withoutUndefined({ hairs, thin, vellus, units, yellowDots, discolouredOpenings });
  });

const seen: fc.Arbitrary<Seen> = fc.oneof(
  fc.constant<Seen>({ state: "absent" }),
  fc.constantFrom(...AMOUNTS, null).map((amount): Seen => ({ state: "present", amount })),
  fc
    .record({ count: fc.integer({ min: 1, max: 99 }), fields: fc.integer({ min: 1, max: 9 }) })
    .map((count): Seen => ({ state: "present", amount: amountOfCount(count.count, count.fields), count })),
);

const site = (knowledge: Knowledge, region: Site["site"]): fc.Arbitrary<Site> =>
  fc
    .record({
      site: fc.constant(region),
      at: some(fc.record({ x: tenth(1), y: tenth(1) })),
      patch: some(
        fc.record({
          lengthMm: fc.integer({ min: 1, max: 30 }),
          widthMm: fc.integer({ min: 1, max: 15 }),
          margin: some(fc.constantFrom("sharp" as const, "blurred" as const)),
        }),
      ),
      findings: fc
        .subarray(Object.keys(knowledge.findings))
        .chain((ids) => fc.tuple(...ids.map((finding) => seen.map((s) => ({ finding, seen: s }))))),
      fields: list(field, 2),
      diametersUm: list(fc.integer({ min: 20, max: 90 })),
      photos: list(
        fc.record({
          file: id.map((name) => `photos/${name}.jpg`),
          field: some(fc.integer({ min: 1, max: 5 })),
          caption: some(line),
        }),
        1,
      ),
      signs: answers(knowledge, "sign"),
      notes: some(prose),
    })
    .map(withoutUndefined);

const idsOf = (knowledge: Knowledge, kinds: readonly string[]) =>
  Object.values(knowledge.facts).flatMap((fact) => (kinds.includes(fact.kind) ? [fact.id] : []));
const factsOf = (knowledge: Knowledge, kind: string, least: number) =>
  fc.subarray(idsOf(knowledge, [kind]), { minLength: least });
/** Answers to some facts of the kinds; a map without any is left out of the file. */
const answers = (knowledge: Knowledge, ...kinds: string[]) =>
  some(
    fc
      .subarray(idsOf(knowledge, kinds), { minLength: 1 })
      .chain((ids) => fc.record(Object.fromEntries(ids.map((fact) => [fact, fc.boolean()])))),
  );

/** Visits of the given knowledge that the reader must take without an error. */
export function visits(knowledge: Knowledge): fc.Arbitrary<Visit> {
  return fc
    .record({
      format: fc.constant(1 as const),
      id,
      date: day("2026-01-01", "2026-12-31"),
      status: fc.constant("draft" as const),
      seenBy: id,
      reason: prose,
      patient: fc.record({
        id,
        name: fc.record({ title: some(line), given: line, family: line }),
        born: day("1940-01-01", "2005-12-31"),
        sex: fc.constantFrom(...SEXES),
        phototype: some(fc.constantFrom(...PHOTOTYPES)),
        ancestry: some(line),
        pregnancy: some(fc.constantFrom("no" as const, "planning" as const)),
        address: list(line),
        language: fc.constantFrom("en-GB", "nb", "pt-BR", "zh-Hant-TW"),
        largePrint: fc.boolean(),
      }),
      sendTo: list(
        fc.record({
          role: line,
          name: line,
          address: list(line),
          copy: fc.boolean(),
          purpose: some(fc.constantFrom(...PURPOSES)),
        }),
      ),
      asked: answers(knowledge, "red flag", "history"),
      history: fc.record({
        began: some(
          fc.oneof(
            fc.constant({ when: "birth" as const }),
            fc.record({ weeksBefore: tenth(500) }),
            fc.record({ ageYears: fc.nat(90) }),
          ),
        ),
        durationWeeks: some(tenth(500)),
        onset: some(fc.constantFrom("sudden" as const, "gradual" as const)),
        course: some(fc.constantFrom("spreading" as const, "relapsing" as const)),
        shedding: some(fc.constantFrom("normal" as const, "none" as const)),
        symptoms: fc.record({ itch: tenth(10), pain: tenth(10) }, { requiredKeys: [] }),
        family: list(line),
        past: list(line),
        medicines: list(
          fc.record(
            { name: line, sinceWeeks: tenth(500), stoppedWeeks: tenth(50), for: line },
            { requiredKeys: ["name"] },
          ),
        ),
        exposures: some(factsOf(knowledge, "exposure", 1)),
        allergies: list(line),
        triggers: list(line),
        hairCare: list(line),
        contacts: list(line),
        notes: some(prose),
      }),
      examination: fc
        .record({ nails: prose, lymphNodes: prose, bodyHair: prose }, { requiredKeys: [] })
        .chain((free) =>
          fc.record({
            ...Object.fromEntries(Object.entries(free).map(([key, text]) => [key, fc.constant(text)])),
            pattern: some(factsOf(knowledge, "pattern", 1)),
            signs: answers(knowledge, "sign"),
          }),
        ),
      pullTest: list(
        fc.record({
          site: fc.constantFrom(...REGIONS),
          pulled: fc.integer({ min: 40, max: 60 }),
          cameOut: fc.integer({ min: 10, max: 40 }),
          anagen: some(fc.nat(10)),
        }),
      ),
      scope: fc.record(
        { magnification: tenth(70).filter((n) => n >= 1), fieldDiameterMm: tenth(25).filter((n) => n >= 1) },
        { requiredKeys: [] },
      ),
      sites: fc
        .subarray([...REGIONS], { maxLength: 4 })
        .chain((regions) => fc.tuple(...regions.map((region) => site(knowledge, region)))),
      extent: some(fc.record({ top: fc.nat(100), back: fc.nat(100) }, { requiredKeys: ["back"] })),
      scores: fc.record(
        { "test-score": fc.record({ redness: fc.nat(3), length_cm: tenth(20) }) },
        { requiredKeys: [] },
      ),
      tests: list(
        fc.record({
          name: line,
          value: some(fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((n) => n + 0)),
          unit: some(line),
          result: some(line),
          date: some(day("2025-01-01", "2026-12-31")),
          range: some(
            fc.oneof(
              fc.record({ low: fc.nat(50), high: fc.integer({ min: 50, max: 90 }) }),
              fc.record({ high: tenth(90) }),
            ),
          ),
        }),
      ),
      impression: fc.subarray(Object.keys(knowledge.disorders)).chain((disorders) =>
        fc.tuple(
          ...disorders.map((disorder) =>
            fc.record({
              disorder: fc.constant(disorder),
              certainty: fc.constantFrom(...CERTAINTIES),
              note: some(prose),
              inHandout: some(fc.boolean()),
            }),
          ),
        ),
      ),
      plan: list(
        fc.record({
          who: line,
          action: prose,
          when: some(line),
          by: some(day("2026-01-01", "2027-12-31")),
          urgency: some(fc.constantFrom(...URGENCIES)),
          answers: some(fc.subarray(["kerion", "scarring"], { minLength: 1 })),
          declined: some(fc.boolean()),
        }),
      ),
      followUp: some(fc.record({ weeks: fc.nat(60) })),
      told: some(prose),
      accept: list(fc.record({ id: line, reason: line })),
      signed: some(
        fc.record({
          by: id,
          at: fc.constantFrom("2026-03-12T14:05", "2026-03-12T14:05:09Z", "2026-03-12T23:59:59.123-05:30"),
          seal: some(id),
          edition: some(fc.integer({ min: 1, max: 999 })),
          reason: some(line),
        }),
      ),
    })
    .map(withoutUndefined);
}
