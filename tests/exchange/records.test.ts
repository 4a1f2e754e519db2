import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { csvToRecords, recordsToCsv, type VisitRecord, visitRecords } from "../../src/exchange/exchange.js";
import type { CountedField, FindingSeen, Site } from "../../src/visit/visit.js";
import { examples, knowledge } from "./examples.js";

/** The sites that audit records tell of, as far as records go: what a visit file holds of findings and counts. */
function sitesOf(records: readonly VisitRecord[]) {
  const numbers = [...new Set(records.filter((r) => r.kind === "site").map((r) => r.site_number))];
  return numbers.map((number) => {
    const mine = records.filter((r) => r.site_number === number);
    const ofKind = (kind: string) => mine.filter((r) => r.kind === kind);
    const counted = ofKind("counted");
    return {
      site: mine[0]?.site,
      notes: mine[0]?.words,
      findings: ofKind("finding").map(
        ({ id, state, words, n, fields }): FindingSeen => ({
          finding: id,
          seen:
            state === "absent"
              ? { state: "absent" }
              : {
                  state: "present",
                  amount: (words === "" ? null : words) as never,
                  ...(n === null ? {} : { count: { count: n, fields: fields ?? 0 } }),
                },
        }),
      ),
      counts: counted.map((r) => [r.fields, r.id, r.value]),
      diameters: ofKind("diameter").map((r) => r.value),
      patch: ofKind("patch").map((r) => r.value ?? r.words),
    };
  });
}

const countsOf = (field: CountedField, number: number) =>
  [
    ["hairs", field.hairs],
    ["thin", field.thin],
    ["vellus", field.vellus],
    ["yellow-dots", field.yellowDots],
    ["discoloured-openings", field.discolouredOpenings],
    ...Object.entries(field.units ?? {}).map(([n, units]) => [`units-${n}`, units]),
  ].flatMap(([id, value]) => (value === undefined ? [] : [[number, id, value]]));

const asTold = (site: Site) => ({
  site: site.site,
  notes: site.notes ?? "",
  findings: site.findings,
  counts: site.fields.flatMap((field, i) => countsOf(field, i + 1)),
  diameters: site.diametersUm,
  patch: site.patch
    ? [site.patch.lengthMm, site.patch.widthMm, ...(site.patch.margin ? [site.patch.margin] : [])]
    : [],
});

describe("audit records", () => {
  it.each(examples.map((e) => [e.visit.id, e] as const))(
    "of %s lose nothing on the way through CSV",
    (_id, example) => {
      const records = visitRecords(example.visit, example.measures, knowledge);
      const { value, problems } = csvToRecords(recordsToCsv(records));
      expect(problems).toEqual([]);
      expect(value).toEqual(records);
      expect(sitesOf(value ?? [])).toEqual(example.visit.sites.map(asTold));
      const measured = (value ?? []).filter((r) => r.kind === "measure");
      expect(measured.map((r) => [r.id, r.value, r.low, r.high, r.n])).toEqual(
        example.measures.measured.map((m) => [m.id, m.value, m.low ?? null, m.high ?? null, m.n ?? null]),
      );
    },
  );

  it("hold no name, address or birthday", () => {
    for (const { visit, measures } of examples) {
      const csv = recordsToCsv(visitRecords(visit, measures, knowledge));
      for (const secret of [visit.patient.name.family, visit.patient.born, ...visit.patient.address])
        expect(csv).not.toContain(secret);
    }
  });

  it("keep any text, also one that a spreadsheet would run, which is defused", () => {
    const [example] = examples;
    if (!example) throw new Error("no examples");
    const [record] = visitRecords(example.visit, example.measures, knowledge);
    if (!record) throw new Error("no records");
    const odd = fc.oneof(
      fc.string({ unit: "grapheme" }),
      fc.constantFrom("=1+1", "@x", "-2", "'quoted", '"', "a,b\r\nc", "\t"),
    );
    fc.assert(
      fc.property(
        odd,
        odd,
        fc.option(fc.double({ noNaN: true, noDefaultInfinity: true })),
        (words, unit, value) => {
          const given = { ...record, words, unit, value: value === 0 ? 0 : value };
          expect(csvToRecords(recordsToCsv([given])).value).toEqual([given]);
        },
      ),
    );
    expect(recordsToCsv([{ ...record, words: '=HYPERLINK("x")' }])).toContain("'=HYPERLINK");
  });

  it("say what is wrong with a table that is none of ours", () => {
    expect(csvToRecords("a,b\n1,2\n").problems[0]?.message).toContain("columns that are missing: visit");
    const csv = recordsToCsv(visitRecords(examples[0]!.visit, examples[0]!.measures, knowledge));
    const { problems } = csvToRecords(csv.replace(/,finding,/u, ",guess,").replace(/,mm,/u, ",mm,,,,,,,,,x"));
    expect(problems.map((p) => p.message).join("\n")).toContain('"guess" is not a kind of record');
    expect(problems.every((p) => (p.line ?? 0) > 1)).toBe(true);
  });
});
