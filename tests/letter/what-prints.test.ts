/** Each recorded fact is printed, or stands on the list of what a document leaves out and why. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { composeLetter } from "../../src/letter/letter.js";
import { loadPack } from "../../src/letter/pack.js";
import { list } from "../../src/letter/phrases.js";
import { leftOut, WHAT_PRINTS, whatPrintsPage } from "../../src/letter/what-prints.js";
import { measure } from "../../src/measure/index.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import type { Visit } from "../../src/visit/visit.js";
import { visits } from "../properties/visit-arbitrary.js";
import { runs } from "../runs.js";
import { clinic, exampleOf, knowledge, wordsIn } from "./compose.js";

const { pack } = loadPack("en-GB");
if (!pack) throw new Error("en-GB");
const { words } = pack;

interface Node {
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
}
/** Maps whose keys are words of the knowledge: one fact each. */
const WHOLE = new Set([
  "sites.findings",
  "sites.fields.units",
  "scores",
  "asked",
  "examination.signs",
  "sites.signs",
]);

/** Every key of the file that holds a value, such as `history.symptoms.itch`. */
function keysOf(node: Node, path = ""): string[] {
  if (WHOLE.has(path)) return [path];
  const bare = (n: Node): Node[] => [n, ...[...(n.items ? [n.items] : []), ...(n.anyOf ?? [])].flatMap(bare)];
  const maps = bare(node).flatMap((n) => Object.entries(n.properties ?? {}));
  if (maps.length === 0) return [path];
  return [...new Set(maps.flatMap(([key, n]) => keysOf(n, path === "" ? key : `${path}.${key}`)))];
}

const termOf = (finding: string) => knowledge.findings[finding]?.term ?? finding;

function amountOf(seen: Visit["sites"][number]["findings"][number]["seen"]): string {
  if (seen.state === "absent") return "";
  const { count, amount } = seen;
  if (count) return `${count.count} in ${count.fields === 1 ? "one field" : `${count.fields} fields`}`;
  return words.amounts[amount ?? "seen"] ?? "";
}

/** Its score, or, where none of the symptoms is felt, that there is none. */
function symptom({ history }: Visit, name: "itch" | "pain"): string | undefined {
  const score = history.symptoms[name];
  if (score === undefined) return undefined;
  return Object.values(history.symptoms).every((n) => !n) ? `no ${name}` : `${name} ${score}`;
}

/** What a document must hold of each key, read from the visit alone. */
const EXPECTED: Readonly<Record<string, (v: Visit) => readonly (string | undefined)[]>> = {
  "visit.id": (v) => [v.id],
  "visit.date": (v) => [day(v.date)],
  "visit.status": (v) => (v.status === "draft" ? ["not yet signed"] : ["signed electronically"]),
  "visit.seen_by": (v) => [v.seenBy],
  "visit.reason": (v) => [v.reason],
  "patient.id": (v) => [v.patient.id],
  "patient.name.title": (v) => [v.patient.name.title],
  "patient.name.given": (v) => [v.patient.name.given],
  "patient.name.family": (v) => [v.patient.name.family],
  "patient.born": (v) => [day(v.patient.born)],
  "patient.sex": (v) => [words.sex[v.patient.sex]],
  "patient.phototype": (v) => [v.patient.phototype && `phototype: ${v.patient.phototype}`],
  "patient.ancestry": (v) => [v.patient.ancestry && `ancestry: ${v.patient.ancestry}`],
  "patient.pregnancy": (v) => [v.patient.pregnancy && words.pregnancy[v.patient.pregnancy]],
  "send_to.role": (v) => v.sendTo.slice(1).map((r) => r.role),
  "send_to.name": (v) => v.sendTo.map((r) => r.name),
  "send_to.address": (v) => v.sendTo[0]?.address ?? [],
  "send_to.copy": () => [],
  "history.duration_weeks": () => [],
  "history.onset": (v) => [v.history.onset && `${v.history.onset} onset`],
  "history.course": (v) => [v.history.course && `${v.history.course} course`],
  "history.shedding": (v) => [v.history.shedding && words.shedding[v.history.shedding]],
  "history.symptoms.itch": (v) => [symptom(v, "itch")],
  "history.symptoms.pain": (v) => [symptom(v, "pain")],
  "history.symptoms.burning": () => [],
  "history.family": (v) => v.history.family,
  "history.past": (v) => v.history.past,
  "history.began.when": (v) => [v.history.began?.when && "began: since birth"],
  "history.began.weeks_before": (v) => [
    v.history.began?.weeksBefore === undefined ? undefined : "before the visit",
  ],
  "history.began.age_years": (v) => [
    v.history.began?.ageYears === undefined ? undefined : `began: at the age of ${v.history.began.ageYears}`,
  ],
  "history.exposures": (v) => (v.history.exposures ?? []).map(factTerm),
  "history.medicines.name": (v) => v.history.medicines.map((m) => m.name),
  "history.medicines.since_weeks": (v) =>
    v.history.medicines.map((m) => (m.sinceWeeks === undefined ? undefined : "started ")),
  "history.medicines.stopped_weeks": (v) =>
    v.history.medicines.map((m) => (m.stoppedWeeks === undefined ? undefined : "stopped ")),
  "history.medicines.for": (v) => v.history.medicines.map((m) => m.for && `for ${m.for}`),
  asked: (v) => Object.keys(v.asked ?? {}).map(factTerm),
  "examination.pattern": (v) => (v.examination.pattern ?? []).map(factTerm),
  "examination.signs": (v) => Object.keys(v.examination.signs ?? {}).map(factTerm),
  "sites.signs": (v) => v.sites.flatMap((s) => Object.keys(s.signs ?? {})).map(factTerm),
  "history.allergies": (v) => v.history.allergies,
  "history.triggers": (v) => v.history.triggers,
  "history.hair_care": (v) => v.history.hairCare,
  "history.contacts": (v) => v.history.contacts,
  "history.notes": (v) => [v.history.notes],
  "examination.scalp": (v) => [v.examination.scalp?.replace(/\.$/u, "")],
  "examination.eyebrows": (v) => [v.examination.eyebrows?.replace(/\.$/u, "")],
  "examination.eyelashes": (v) => [v.examination.eyelashes?.replace(/\.$/u, "")],
  "examination.nails": (v) => [v.examination.nails?.replace(/\.$/u, "")],
  "examination.skin": (v) => [v.examination.skin?.replace(/\.$/u, "")],
  "examination.mouth": (v) => [v.examination.mouth?.replace(/\.$/u, "")],
  "examination.lymph_nodes": (v) => [v.examination.lymphNodes?.replace(/\.$/u, "")],
  "examination.body_hair": (v) => [v.examination.bodyHair?.replace(/\.$/u, "")],
  "pull_test.site": (v) => v.pullTest.map((p) => p.site),
  "pull_test.pulled": (v) => v.pullTest.map((p) => `of ${p.pulled}`),
  "pull_test.came_out": (v) => v.pullTest.map((p) => `${p.site} ${p.cameOut} of`),
  "pull_test.anagen": (v) =>
    v.pullTest.map((p) => (p.anagen === undefined ? undefined : `${p.anagen} anagen`)),
  "scope.magnification": (v) => [
    v.scope.magnification === undefined ? undefined : `${v.scope.magnification}-fold`,
  ],
  "scope.light": (v) => [v.scope.light && words.light[v.scope.light]],
  "scope.contact": (v) => [v.scope.contact && words.contact[v.scope.contact]],
  "scope.field_diameter_mm": (v) => [
    v.scope.fieldDiameterMm === undefined ? undefined : `field ${v.scope.fieldDiameterMm} mm`,
  ],
  "sites.site": (v) => v.sites.map((s) => s.site),
  "sites.patch.length_mm": (v) => v.sites.map((s) => s.patch && `patch ${s.patch.lengthMm} ×`),
  "sites.patch.width_mm": (v) => v.sites.map((s) => s.patch && `× ${s.patch.widthMm} mm`),
  "sites.patch.margin": (v) => v.sites.map((s) => s.patch?.margin && `${s.patch.margin} margin`),
  "sites.findings": (v) =>
    v.sites.flatMap((s) =>
      s.findings.map(({ finding, seen }) => {
        if (seen.state === "absent") return termOf(finding);
        const amount = amountOf(seen);
        const alike = s.findings.filter((f) => f.seen.state === "present" && amountOf(f.seen) === amount);
        const terms = alike.map((f) => termOf(f.finding));
        // Signs that were only seen stand in one list with such findings.
        const open = amount === words.amounts.seen && s.signs !== undefined;
        return `${amount}: ${open ? terms[0] : list(words, terms)}`;
      }),
    ),
  "sites.none_of": () => [],
  "sites.photos.caption": () => [],
  "sites.notes": (v) => v.sites.map((s) => s.notes),
  "extent.top": (v) => [v.extent?.top === undefined ? undefined : `top: ${v.extent.top} %`],
  "extent.left": () => [],
  "extent.right": () => [],
  "extent.back": (v) => [v.extent?.back === undefined ? undefined : `back: ${v.extent.back} %`],
  scores: (v) =>
    Object.entries(v.scores).flatMap(([id, answers]) => [
      id,
      ...Object.entries(answers).map(([name, value]) => `${name}: ${value}`),
    ]),
  "tests.name": (v) => v.tests.map((t) => t.name),
  "tests.value": (v) => v.tests.map((t) => (t.value === undefined ? undefined : plainNumber(t.value))),
  "tests.unit": (v) =>
    v.tests.map((t) => (t.value === undefined ? undefined : t.unit?.replace(/^ug\b/u, "µg"))),
  "tests.result": (v) => v.tests.map((t) => t.result),
  "tests.date": (v) => v.tests.map((t) => t.date && day(t.date)),
  "tests.range.low": (v) =>
    v.tests.map((t) => (t.range?.low === undefined ? undefined : `range ${t.range.low} to`)),
  "tests.range.high": (v) =>
    v.tests.map((t) => (t.range?.high === undefined ? undefined : `${t.range.high}`)),
  "impression.disorder": (v) => v.impression.map((i) => knowledge.disorders[i.disorder]?.term),
  "impression.certainty": (v) => v.impression.map((i) => words.certainty[i.certainty]),
  "impression.note": (v) => v.impression.map((i) => i.note),
  "impression.because": () => [],
  "plan.who": (v) => v.plan.map((l) => own(words.who, l.who)),
  "plan.action": (v) => v.plan.map((l) => l.action),
  "plan.when": (v) => v.plan.map((l) => l.when?.replace(/\.$/u, "")),
  "plan.by": (v) => v.plan.map((l) => l.by && `by ${day(l.by)}`),
  "plan.urgency": (v) => v.plan.map((l) => l.urgency && words.urgency[l.urgency]),
  "plan.declined": (v) => v.plan.map((l) => (l.declined ? "declined" : undefined)),
  "follow_up.weeks": (v) => [v.followUp ? "at our clinic about" : undefined],
  told: (v) => [v.told],
  "signed.by": () => [],
  "signed.at": () => [],
  "signed.edition": () => [],
  "signed.reason": () => [],
};
/** In the handout these read otherwise. */
const IN_HANDOUT: typeof EXPECTED = {
  "sites.site": (v) => v.sites.map((s) => knowledge.regions[s.site]?.plain),
  "plan.who": (v) => v.plan.map((l) => own(words.who_patient, l.who)),
  "plan.declined": (v) => v.plan.map((l) => (l.declined ? "you said no to this" : undefined)),
  "follow_up.weeks": (v) => [v.followUp ? "next visit with us: about" : undefined],
};

const own = (table: Readonly<Record<string, string>>, key: string) =>
  Object.hasOwn(table, key) ? table[key] : key;
const factTerm = (id: string) => knowledge.facts[id]?.term ?? id;
function day(iso: string): string {
  return `${Number(iso.slice(8))} ${words.months[Number(iso.slice(5, 7)) - 1]} ${iso.slice(0, 4)}`;
}
function plainNumber(n: number): string {
  return n.toLocaleString("en", { useGrouping: false, maximumFractionDigits: 20 }).replace("-", "\u2212");
}
const fold = (text: string) => text.replace(/\s+/gu, " ").trim().toLowerCase();

const gp = {
  role: "general practitioner",
  name: "Dr Ilse Brandt",
  address: ["Quayside Practice"],
  copy: false,
};

/** What a document of this visit leaves out although the list says that it prints. */
function missingIn(kind: "referral-letter" | "handout", visit: Visit): string[] {
  const { interpretation } = exampleOf("TS-2026-0141");
  const { value, problems } = composeLetter(kind, {
    visit,
    clinic,
    knowledge,
    measures: measure(visit, knowledge),
    interpretation: { ...interpretation, cautions: [], mustNotMiss: [], notAssessed: [] },
    language: "en-GB",
  });
  if (!value) throw new Error(problems[0]?.message);
  const text = fold(wordsIn(value.html));
  const document = kind === "handout" ? "handout" : "letter";
  return Object.entries(WHAT_PRINTS).flatMap(([key, prints]) => {
    if (prints[document] !== "yes") return [];
    const isKeptBack = document === "handout" && visit.impression.some((i) => i.inHandout === false);
    // A test may tell the name that the clinician keeps for a talk.
    if (isKeptBack && key.startsWith("tests.")) return [];
    const expected = (document === "handout" && IN_HANDOUT[key]) || EXPECTED[key];
    if (!expected) return [`${key} is proved by nothing`];
    return expected(visit).flatMap((t) => (t && !text.includes(fold(t)) ? [`${key}: ${t}`] : []));
  });
}

describe("what the documents print", () => {
  it("is said of every key of the visit file, and of no other", () => {
    const schema: Node = JSON.parse(JSON.stringify(visitJsonSchema(knowledge)));
    expect(Object.keys(WHAT_PRINTS).sort()).toEqual(keysOf(schema).sort());
  });

  it.each(["referral-letter", "handout"] as const)("holds for any valid visit: %s", (kind) => {
    fc.assert(
      fc.property(visits(knowledge), (any) => {
        expect(
          missingIn(kind, { ...any, sendTo: [gp, ...any.sendTo.map((r) => ({ ...r, copy: true }))] }),
        ).toEqual([]);
      }),
      { numRuns: runs(60) },
    );
  });

  it("is listed in templates/WHAT-PRINTS.md, made anew by npm run templates", async () => {
    await expect(whatPrintsPage()).toMatchFileSnapshot(inPackage("templates", "WHAT-PRINTS.md"));
    expect(leftOut("letter").find((r) => r.key === "patient.address")?.why).toContain("goes nowhere");
  });
});
