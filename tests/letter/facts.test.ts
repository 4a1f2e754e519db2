/** Facts of a small visit, one kind at a time: who signs and reads, which caution speaks where, what was not looked at. */
import { describe, expect, it } from "vitest";
import type { AppliedCaution, Interpretation } from "../../src/interpret/interpretation.js";
import { wordsOf } from "../../src/knowledge/sentence.js";
import { letterFacts } from "../../src/letter/facts.js";
import type { FactsInput } from "../../src/letter/facts-input.js";
import { localise } from "../../src/letter/localise.js";
import { loadPack } from "../../src/letter/pack.js";
import { isFor, isSame, purposeOf } from "../../src/letter/recipients.js";
import type { Clinic } from "../../src/visit/clinic.js";
import type { Recipient, Visit } from "../../src/visit/visit.js";
import { clinic, exampleOf, knowledge } from "./compose.js";

const base = exampleOf("TS-2026-0141");
const { pack } = loadPack("en-GB");
if (!pack) throw new Error("en-GB");

const gp: Recipient = {
  role: "general practitioner",
  name: "Dr Lund",
  address: ["1 Fish Street"],
  copy: false,
};
const school: Recipient = { role: "school", name: "Ms Berg", address: ["2 Fish Street"], copy: true };
const nurse: Recipient = { role: "nurse", name: "Ms Dahl", address: ["3 Fish Street"], copy: true };

interface Given extends Omit<Partial<FactsInput>, "visit" | "interpretation" | "clinic"> {
  readonly visit?: Partial<Visit>;
  readonly interpretation?: Partial<Interpretation>;
  readonly clinic?: Partial<Clinic>;
}

const facts = (given: Given = {}) => letterFacts(inputOf(given));

function inputOf({ visit = {}, interpretation = {}, clinic: house = {}, ...more }: Given): FactsInput {
  const whole = {
    ...base,
    knowledge,
    visit: {
      ...base.visit,
      sendTo: [gp, school, nurse],
      sites: [],
      tests: [],
      plan: [],
      impression: [{ disorder: "alopecia-areata", certainty: "probable" as const }],
      ...visit,
    },
    interpretation: {
      ...base.interpretation,
      cautions: [],
      mustNotMiss: [],
      notAssessed: [],
      ...interpretation,
    },
  };
  return {
    ...localise(pack as NonNullable<typeof pack>, whole),
    visit: whole.visit,
    clinic: { ...clinic, ...house },
    words: (pack as NonNullable<typeof pack>).words,
    recipient: gp,
    change: null,
    replaces: undefined,
    drawings: {},
    large: false,
    forClinician: false,
    photos: [],
    hasLogo: false,
    ...more,
  };
}

describe("a caution", () => {
  const caution = (id: string): AppliedCaution =>
    ({
      id,
      doctor: `${id} D.`,
      patient: `${id} P.`,
      clinician: `${id} C.`,
      source: "common practice",
    }) as AppliedCaution;
  const line = (id: string, urgency: "now" | "same day" | "days" | "soon", closedBy: object | null = null) =>
    ({
      id,
      caution: id,
      why: "",
      urgency,
      who: "",
      raisedBy: [],
      closedBy,
      answeredByPlan: closedBy !== null,
    }) as unknown as Interpretation["mustNotMiss"][number];

  it("stands first for each reader while its line is open and cannot wait, else with the rest", () => {
    const { cautions } = facts({
      interpretation: {
        cautions: ["first", "second", "third", "fourth", "fifth"].map(caution),
        mustNotMiss: [
          line("first", "days"),
          line("second", "now"),
          line("third", "same day", { kind: "plan", says: "" }),
          line("fourth", "now", { kind: "test", says: "" }),
        ],
      },
    });
    expect(cautions).toEqual({
      doctor: ["first D.", "second D.", "fifth D."],
      doctorFirst: ["second D."],
      doctorRest: ["first D.", "fifth D."],
      urgent: ["second P.", "third P."],
      patient: ["first P.", "fourth P.", "fifth P."],
      clinician: ["first C.", "second C.", "third C.", "fourth C.", "fifth C."],
    });
  });

  describe("whose line is closed", () => {
    const toDoctor = (
      urgency: "same day" | "days",
      kind: string,
      plan: Partial<Visit["plan"][number]> = {},
    ) => {
      const closed = { ...line("lupus-beyond-skin", urgency, { kind, says: "" }) };
      const reply = { who: "clinic", action: "Bloods.", answers: ["lupus-beyond-skin"], ...plan };
      return facts({
        visit: { plan: [reply as Visit["plan"][number]] },
        interpretation: { cautions: [caution("lupus-beyond-skin")], mustNotMiss: [closed] },
      }).cautions.doctor;
    };
    const { doctor = "", doctor_after: after = [] } = knowledge.cautions["lupus-beyond-skin"] ?? {};

    it("asks the doctor no more, and says what still holds", () => {
      expect(toDoctor("days", "plan")).toEqual(after.map(wordsOf));
      expect(toDoctor("same day", "plan")).toEqual(after.map(wordsOf));
      expect(toDoctor("days", "plan", { who: "general practitioner" })).toEqual(after.map(wordsOf));
    });

    it("still asks where the patient declined, and what cannot wait where the plan leaves it to this reader", () => {
      expect(toDoctor("days", "declined", { declined: true })).toEqual([doctor]);
      expect(toDoctor("same day", "plan", { who: "general practitioner" })).toEqual([doctor]);
    });
  });

  it("takes its words from the knowledge where they are there", () => {
    const [id = ""] = Object.entries(knowledge.cautions).find(([, c]) => typeof c.doctor === "string") ?? [];
    const { cautions } = facts({ interpretation: { cautions: [caution(id)] } });
    expect(cautions.doctor[0]).toBe(knowledge.cautions[id]?.doctor);
  });

  it("says what it says besides after it, to its reader and not on the clinician's sheet", () => {
    const id = "drug-cause";
    const also = knowledge.cautions[id];
    const { cautions } = facts({ interpretation: { cautions: [caution(id)] } });
    expect(cautions.patient[0]).toBe(also?.patient);
    expect(cautions.patient.length).toBeGreaterThan(1);
    expect(cautions.clinician).toEqual([also?.clinician]);
  });

  it("of a healthy scalp says what was looked at, for the doctor alone", () => {
    const impression = [{ disorder: "nothing-abnormal-found", certainty: "definite" as const }];
    const { cautions } = facts({ visit: { impression } });
    const about = knowledge.disorders["nothing-abnormal-found"]?.letter.about;
    expect([cautions.doctor, cautions.doctorRest, cautions.doctorFirst, cautions.patient]).toEqual([
      [about],
      [about],
      [],
      [],
    ]);
  });
});

describe("people", () => {
  const people = {
    a: { name: "Dr A", role: "Consultant", qualifications: "Q", registration: "R", maySign: true },
    b: { name: "Ms B", role: "Registrar", maySign: true },
  };
  const signed = (by: string) => ({
    visit: {
      seenBy: "b",
      status: "signed" as const,
      signed: { by, at: "2026-03-12T10:00:00Z" } as NonNullable<Visit["signed"]>,
    },
    clinic: { people },
  });
  it("the signer is told with what is known of them, and who saw the patient where it is another", () => {
    expect(facts(signed("a")).clinician).toEqual({
      name: "Dr A",
      role: "Consultant",
      qualifications: "Q",
      registration: "R",
    });
    expect(facts(signed("a")).visit.seenBy).toBe("Ms B");
    expect(facts(signed("b")).visit.seenBy).toBe("");
    expect(facts({ ...signed("a"), visit: { ...signed("a").visit, status: "draft" } }).clinician.name).toBe(
      "Ms B",
    );
    expect(facts({ visit: { seenBy: "c", status: "draft" }, clinic: { people } }).clinician).toEqual({
      name: "c",
      role: "",
      qualifications: "",
      registration: "",
    });
  });

  it("a copy names whom the letter was written to where its reader shares in the care, and nobody is told of himself", () => {
    const copies = (recipient: Recipient | null) => {
      const { copies: told, recipient: to } = facts({ recipient });
      return [to.copyOf, ...told.map(({ name }) => name)];
    };
    expect(copies(gp)).toEqual(["", "Ms Berg", "Ms Dahl"]);
    expect(copies(nurse)).toEqual(["Dr Lund", "Ms Berg"]);
    expect(copies(school)).toEqual(["", "Dr Lund", "Ms Dahl"]);
    expect(copies(null)).toEqual(["", "Dr Lund", "Ms Berg", "Ms Dahl"]);
    expect(facts({ recipient: null }).recipient).toEqual({
      name: "",
      role: "",
      lines: [],
      salutation: "",
      why: "",
      copyOf: "",
    });
    expect(facts().recipient.lines).toEqual(["Dr Lund", "1 Fish Street"]);
  });

  it.each([
    ["1991-07-04", false, false],
    ["2010-03-12", false, false],
    ["2010-03-13", true, true],
    ["2021-03-12", true, true],
    ["2021-03-13", true, false],
  ] as const)("born on %s: a child %s, who reads a part %s", (born, isChild, reads) => {
    const { patient } = facts({ visit: { date: "2026-03-12", patient: { ...base.visit.patient, born } } });
    expect([patient.isChild, patient.readsOwnPart]).toEqual([isChild, reads]);
  });

  it.each([
    ["school", "school"],
    ["Class teacher", "school"],
    ["workplace", "employer"],
    ["Occupational health", "employer"],
    ["solicitor", "insurer"],
    ["mother", "family"],
    ["grandmother", "care"],
    ["general practitioner", "care"],
  ])("%s reads as %s", (role, purpose) => {
    expect(purposeOf({ ...gp, role })).toBe(purpose);
    expect(purposeOf({ ...gp, role, purpose: "court" as Recipient["purpose"] & string })).toBe("court");
  });

  it("is the same by name, role and address, and a plan line is for one by role, name or purpose", () => {
    expect(isSame(gp, { ...gp })).toBe(true);
    for (const other of [{ name: "x" }, { role: "x" }, { address: ["x"] }])
      expect(isSame(gp, { ...gp, ...other })).toBe(false);
    const line = (who: string) => ({ who, action: "" }) as Visit["plan"][number];
    const isForAny = (who: string, recipient: Recipient | null) => isFor(line(who), recipient);
    expect([
      isForAny("General-Practitioner", gp),
      isForAny("Dr Lund", gp),
      isForAny("GP", gp),
      isForAny("patient", gp),
    ]).toEqual([true, true, true, false]);
    expect([
      isForAny("school", { ...school, role: "class teacher" }),
      isForAny("care", gp),
      isForAny("x", null),
    ]).toEqual([true, false, false]);
  });
});

describe("an impression", () => {
  const impression = [
    {
      disorder: "alopecia-areata",
      certainty: "probable" as const,
      because: ["black-dots", "yellow-dots"],
      note: "Active.",
    },
    { disorder: "tinea-capitis", certainty: "excluded" as const, because: ["comma-hairs"] },
    { disorder: "unheard-of", certainty: "possible" as const },
  ] as unknown as Visit["impression"];
  it("is told with its code and note, what is excluded apart, and its grounds where some were ticked", () => {
    const { impressions, considered, why } = facts({ visit: { impression } });
    expect(
      impressions.map(({ term, certainty, icd10, note }) => [term, certainty, icd10 !== "", note]),
    ).toEqual([
      ["alopecia areata", "probable", true, "Active."],
      ["unheard-of", "possible", false, ""],
    ]);
    expect(considered.map(({ term }) => term)).toEqual(["tinea capitis"]);
    expect(why).toEqual([{ term: "alopecia areata", because: ["black dots", "yellow dots"] }]);
  });

  it("leaves open at most three findings that it is told by, were not assessed and are not counted", () => {
    const evidence = Object.keys(knowledge.disorders["alopecia-areata"]?.evidence ?? {});
    const open = evidence.filter((id) => id !== "yellow-dots").slice(0, 4);
    const told = (visit: Partial<Visit>, ids: readonly string[] = open) =>
      facts({ visit, interpretation: { notAssessed: ids as Interpretation["notAssessed"] } }).notAssessed;
    const terms = open.map((id) => knowledge.findings[id]?.term);
    expect(told({})).toEqual(terms.slice(0, 3));
    expect(
      told({ impression: [{ disorder: "alopecia-areata", certainty: "definite" }] as Visit["impression"] }),
    ).toEqual([]);
    expect(
      told(
        {},
        ["comma-hairs"].filter((id) => !evidence.includes(id)),
      ),
    ).toEqual([]);
    expect(told({}, ["yellow-dots"])).toEqual(["yellow dots"]);
    const site = { site: "vertex" as const, findings: [], diametersUm: [], photos: [] };
    expect(told({ sites: [{ ...site, fields: [{ yellowDots: 0 }] }] }, ["yellow-dots"])).toEqual([]);
    expect(told({ sites: [{ ...site, fields: [{ hairs: 3 }] }] }, ["yellow-dots"])).toEqual(["yellow dots"]);
  });
});

it("says nothing of a follow-up that is not planned", () => {
  const { followUp: _none, ...rest } = base.visit;
  expect(letterFacts({ ...inputOf({}), visit: rest }).followUp).toBeNull();
});

it("says what else a visit has: follow-up to the day, loss by area, the clinic with what it leaves out", () => {
  const {
    followUp,
    extent,
    clinic: house,
    toldThem,
  } = facts({
    visit: { date: "2026-03-12", followUp: { weeks: 1.5 }, extent: { top: 40, back: 0 } },
    clinic: { name: "N", lines: [], phone: "1", emergency: [] },
  });
  expect(followUp).toEqual({ weeks: 1.5, date: "2026-03-23" });
  expect(extent.map((text) => text.replace(/\u00a0/gu, " "))).toEqual([
    expect.stringContaining("40 %"),
    expect.stringContaining("0 %"),
  ]);
  expect([house.name, house.logo, toldThem]).toEqual(["N", false, base.visit.told ?? ""]);
});
