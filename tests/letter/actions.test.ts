import { describe, expect, it } from "vitest";
import { actionFacts } from "../../src/letter/actions.js";
import { loadPack } from "../../src/letter/pack.js";
import type { Words } from "../../src/letter/phrases.js";
import { purposeOf } from "../../src/letter/recipients.js";
import { dayOf, leadOf } from "../../src/letter/when.js";
import type { PlanLine, Recipient, Signed } from "../../src/visit/visit.js";
import { compose, exampleOf, examples, knowledge, withVisit, wordsIn } from "./compose.js";

function words(language: string): Words {
  const { pack } = loadPack(language);
  if (!pack) throw new Error(language);
  return pack.words;
}
const gp: Recipient = {
  role: "general practitioner",
  name: "Dr Ilse Brandt",
  address: ["1 Fish Street"],
  copy: false,
};
const nurse: Recipient = { role: "school nurse", name: "Ines Okoro", address: ["School Lane"], copy: true };
const plan: PlanLine[] = [
  { who: "GP", action: "Check iron." },
  { who: "clinic", action: "Count again." },
  { who: "patient", action: "Take a photo." },
  { who: "Ines Okoro", action: "Watch for new patches." },
  { who: "patient", action: "Call us." },
];
const example = withVisit(exampleOf("TS-2026-0141"), { plan, sendTo: [gp, nurse] });

describe("the plan", () => {
  it("leaves out of the handout what gives a private line away, denied or not, and keeps it in the letter", () => {
    const lines: PlanLine[] = [
      { who: "clinic", action: "Syphilis serology today." },
      { who: "clinic", action: "No sign of abuse; photographs kept." },
      { who: "clinic", action: "Count the hairs again." },
    ];
    const visit = { ...example.visit, plan: lines };
    const home = actionFacts(words("en-GB"), visit, null, knowledge).forPatient;
    expect(home.flatMap((p) => p.actions.map((a) => a.action))).toEqual(["Count the hairs again."]);
    const forGp = actionFacts(words("en-GB"), visit, gp, knowledge).others;
    expect(forGp.flatMap((p) => p.actions)).toHaveLength(3);
  });

  it("gives the reader's actions first, by role, short role or name", () => {
    const forGp = actionFacts(words("en-GB"), example.visit, gp, knowledge);
    expect(forGp.reader.map((a) => a.action)).toEqual(["Check iron."]);
    expect(forGp.others.map(({ who, actions }) => [who, actions.map((a) => a.action)])).toEqual([
      ["our clinic", ["Count again."]],
      ["patient", ["Take a photo.", "Call us."]],
      ["Ines Okoro", ["Watch for new patches."]],
    ]);
    const forNurse = actionFacts(words("en-GB"), example.visit, nurse, knowledge);
    expect(forNurse.reader.map((a) => a.action)).toEqual(["Watch for new patches."]);
    expect(forNurse.others[0]?.who).toBe("Dr Ilse Brandt");
  });

  it("asks nobody when there is no reader, and names the family doctor by role when nobody is known", () => {
    const none = actionFacts(words("de"), { ...example.visit, sendTo: [] }, null, knowledge);
    expect(none.reader).toEqual([]);
    expect(none.others[0]?.who).toBe("Hausarztpraxis");
  });

  it("is told to the patient person by person, the patient first", () => {
    const { forPatient } = actionFacts(words("en-GB"), example.visit, null, knowledge);
    expect(forPatient.map((p) => p.who)).toEqual(["You", "Your family doctor", "Our clinic", "Ines Okoro"]);
    expect(forPatient[0]?.actions.map((a) => a.action)).toEqual(["Take a photo.", "Call us."]);
  });

  it("is told to the patient as written where their first line points at one of somebody else", () => {
    const lines: PlanLine[] = [
      { who: "GP", action: "Treat until the culture is clear." },
      { who: "patient", action: "Use your own comb until then." },
      { who: "patient", action: "Call us." },
      { who: "clinic", action: "Phone.", when: "today" },
      { who: "clinic", action: "A biopsy is booked if the picture is not clear by then." },
    ];
    const told = actionFacts(words("en-GB"), { ...example.visit, plan: lines }, null, knowledge).forPatient;
    expect(told.map((p) => [p.who, p.actions.map((a) => a.action)])).toEqual([
      ["Our clinic", ["Phone.", "A biopsy is booked if the picture is not clear by then."]],
      ["Your family doctor", ["Treat until the culture is clear."]],
      ["You", ["Use your own comb until then.", "Call us."]],
    ]);
    const other = [...lines.slice(0, 1), ...lines.slice(2, 3)];
    expect(
      actionFacts(words("en-GB"), { ...example.visit, plan: other }, null, knowledge).forPatient.map(
        (p) => p.who,
      ),
    ).toEqual(["You", "Your family doctor"]);
  });
});

describe("the order and the lead of a line", () => {
  const due = (line: Partial<PlanLine>): PlanLine => ({ who: "GP", action: "Act.", ...line });
  const leads = (lines: readonly PlanLine[]) =>
    actionFacts(
      words("en-GB"),
      { ...example.visit, date: "2026-03-12", plan: [...lines] },
      gp,
      knowledge,
    ).reader.map((a) => a.lead);

  it("put now and the same day first, then what has a day or is expected by one, then the rest", () => {
    expect(
      leads([
        due({}),
        due({ when: "within 4 weeks" }),
        due({ by: "2026-03-20" }),
        due({ urgency: "soon" }),
        due({ urgency: "days" }),
        due({ by: "2026-03-12" }),
        due({ when: "today" }),
        due({ urgency: "now" }),
      ]),
    ).toEqual([
      "Now",
      "Today",
      "By 12 March 2026",
      "Within days",
      "By 20 March 2026",
      "By 9 April 2026",
      "Soon",
      "",
    ]);
  });

  it("say the words alone where no day follows from them", () => {
    expect(leads([due({ when: "at the next blood test." })])).toEqual(["At the next blood test"]);
    expect(leads([due({ when: "in a month", urgency: "days" })])).toEqual(["Within days, by 12 April 2026"]);
  });

  it("say what cannot wait in the language of the letter, however it was typed", () => {
    const said = (when: string) =>
      ["en-GB", "de", "es"].map((language) =>
        leadOf(words(language), { who: "GP", action: "A.", when }, "2026-03-12"),
      );
    expect(said("today")).toEqual(["Today", "Heute", "Hoy"]);
    expect(said("sofort")).toEqual(["Now", "Sofort", "Ahora"]);
    expect(said("on the same day.")).toEqual(["Same day", "Noch heute", "El mismo día"]);
    expect(said("at the next visit")).toEqual(Array(3).fill("At the next visit"));
  });

  it("say nothing of how urgent the engine holds the line that they answer", () => {
    const answering = examples.filter((e) => e.visit.plan.some((line) => line.answers && !line.urgency));
    expect(answering.length).toBeGreaterThan(5);
    for (const { visit, measures, interpretation } of answering) {
      const bare = {
        ...visit,
        plan: visit.plan.map(({ who, action, answers }) => ({
          who,
          action,
          ...(answers ? { answers } : {}),
        })),
      };
      for (const kind of ["referral-letter", "handout"]) {
        const text = wordsIn(compose(kind, { visit: bare, measures, interpretation }).html);
        for (const { action } of bare.plan)
          expect(text).not.toMatch(
            new RegExp(`(?:Now|Same day|Within days|Soon): ${action.slice(0, 12)}`, "u"),
          );
      }
    }
  });

  it("work out a day from a span of days, weeks or months", () => {
    expect(dayOf("10 days", "2026-02-25")).toBe("2026-03-07");
    expect(dayOf("within two weeks", "2026-03-12")).toBe("2026-03-26");
    expect(dayOf("in 3 months", "2026-11-30")).toBe("2027-02-28");
    expect(dayOf("before the holidays", "2026-03-12")).toBeUndefined();
    expect(dayOf("in some weeks", "2026-03-12")).toBeUndefined();
  });
});

describe("a copy to another doctor", () => {
  const specialist: Recipient = {
    role: "rheumatologist",
    name: "Dr Tomos Achterberg",
    address: ["40 North Gate"],
    copy: true,
  };
  const shared = withVisit(example, {
    sendTo: [gp, specialist],
    plan: [...plan, { who: "rheumatologist", action: "Weigh the antibodies." }],
  });
  const copy = wordsIn(compose("referral-letter", shared, { recipient: specialist }).html);

  it("greets its own reader and says at once that it asks something of them", () => {
    expect(copy).toContain("Copy with a request to you. This letter was written to Dr Ilse Brandt.");
    expect(copy).not.toContain("for your information");
    expect(copy).toContain("Dear Dr Achterberg,");
    expect(copy).toMatch(/Asked of you Weigh the antibodies\. Also agreed/u);
    expect(copy).toContain("Dr Ilse Brandt: Check iron.");
  });

  it("is for information where nothing is asked of its reader", () => {
    const idle = withVisit(shared, { plan });
    expect(wordsIn(compose("referral-letter", idle, { recipient: specialist }).html)).toContain(
      "Copy for your information. This letter was written to Dr Ilse Brandt.",
    );
  });

  it("names beside its references the other copies: neither its reader nor the one it was written to", () => {
    const third: Recipient = { ...specialist, role: "dermatologist", name: "Dr Saskia Ferreira-Lund" };
    const three = withVisit(shared, { sendTo: [gp, specialist, third] });
    const said = (recipient: Recipient) =>
      /Copy to .*?(?= (?:Ms Marit|Copy with|Dear))/u.exec(
        wordsIn(compose("referral-letter", three, { recipient }).html),
      )?.[0];
    expect(said(specialist)).toBe("Copy to Dr Saskia Ferreira-Lund (dermatologist)");
    expect(said(gp)).toBe(
      "Copy to Dr Tomos Achterberg (rheumatologist) Dr Saskia Ferreira-Lund (dermatologist)",
    );
    expect(copy).not.toContain("Copy to");
  });
});

describe("a letter to a reader outside the care", () => {
  const notice = compose("referral-letter", example, { recipient: nurse });
  const text = wordsIn(notice.html);

  it("is of its own kind, greets its reader and holds only what is theirs to do", () => {
    expect(notice.kind).toBe("notice");
    expect(text).toContain("School Lane");
    expect(text).toContain("Dear Ines Okoro,");
    expect(text).toContain("Asked of you Watch for new patches. Please keep this letter");
  });

  it("holds no history, no finding, no impression and no other action", () => {
    const { visit } = example;
    const own = [
      visit.reason,
      ...visit.history.medicines.map((m) => m.name),
      ...visit.history.past,
      "Check iron",
      "Count again",
    ];
    const terms = visit.sites.flatMap((s) =>
      s.findings.map((f) => knowledge.findings[f.finding]?.term ?? ""),
    );
    const names = visit.impression.map((i) => knowledge.disorders[i.disorder]?.term ?? "");
    for (const word of [...own, ...terms, ...names])
      expect(text.toLowerCase()).not.toContain(word.toLowerCase());
  });

  it("asks for nothing where the plan names nobody there", () => {
    const idle = withVisit(example, { plan: plan.slice(0, 3) });
    expect(wordsIn(compose("referral-letter", idle, { recipient: nurse }).html)).toContain(
      "Nothing is asked of you at present.",
    );
  });

  it.each([
    [{ role: "school nurse" }, "school"],
    [{ role: "Employer" }, "employer"],
    [{ role: "insurance company" }, "insurer"],
    [{ role: "mother" }, "family"],
    [{ role: "dermatologist" }, "care"],
    [{ role: "practice nurse" }, "care"],
    [{ role: "school doctor", purpose: "care" as const }, "care"],
    [{ role: "friend", purpose: "family" as const }, "family"],
  ])("reads %j as %s", (who, purpose) => {
    expect(purposeOf({ ...nurse, ...who })).toBe(purpose);
  });
});

describe("signing", () => {
  const signed = { by: "rafiq-oyelaran", at: "2026-03-14T14:05+00:00" };
  const said = (act: Partial<Signed>, replaces?: string) =>
    wordsIn(
      compose("referral-letter", withVisit(example, { signed: { ...signed, ...act } }), {
        recipient: gp,
        ...(replaces ? { replaces } : {}),
      }).html,
    );

  it("prints the day of the visit and the moment of signing as two facts", () => {
    expect(said({})).toContain("Date 14 March 2026 Our reference TS-2026-0141 Seen on 12 March 2026");
    expect(said({})).toContain("Signed electronically on 14 March 2026 at 14:05; seen by Dr Anneli Thorsby");
    expect(said({})).toContain("seen by Dr Anneli Thorsby");
    expect(said({ by: "anneli-thorsby" })).not.toContain("seen by");
  });

  it("claims no moment where none was recorded", () => {
    expect(wordsIn(compose("referral-letter", example, { recipient: gp }).html)).toContain(
      "Registration TS-D-20417. Signed electronically",
    );
  });

  it("says what a later edition replaces, and why", () => {
    expect(said({ edition: 1 })).not.toContain("This letter replaces");
    expect(said({ edition: 2, reason: "the side was wrong" }, "2026-03-12")).toContain(
      "This letter replaces ours of 12 March 2026. The side was wrong.",
    );
    expect(said({ edition: 2 })).toContain("This letter replaces our earlier letter about this visit.");
  });
});
