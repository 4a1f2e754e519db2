import { describe, expect, it } from "vitest";
import { actionFacts } from "../../src/letter/actions.js";
import { loadPack } from "../../src/letter/pack.js";
import type { Words } from "../../src/letter/words.js";
import type { PlanLine, Recipient } from "../../src/visit/visit.js";
import { compose, exampleOf, withVisit, wordsIn } from "./compose.js";

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
  it("gives the reader's actions first, by role, short role or name", () => {
    const forGp = actionFacts(words("en-GB"), example.visit, gp);
    expect(forGp.reader.map((a) => a.action)).toEqual(["Check iron."]);
    expect(forGp.others.map((a) => a.who)).toEqual([
      "our clinic",
      words("en-GB").who.patient,
      "Ines Okoro",
      words("en-GB").who.patient,
    ]);
    const forNurse = actionFacts(words("en-GB"), example.visit, nurse);
    expect(forNurse.reader.map((a) => a.action)).toEqual(["Watch for new patches."]);
    expect(forNurse.others[0]?.who).toBe("Dr Ilse Brandt");
  });

  it("asks nobody when there is no reader, and names the family doctor by role when nobody is known", () => {
    const none = actionFacts(words("de"), { ...example.visit, sendTo: [] }, null);
    expect(none.reader).toEqual([]);
    expect(none.others[0]?.who).toBe("Hausarztpraxis");
  });

  it("is told to the patient person by person, the patient first", () => {
    const { forPatient } = actionFacts(words("en-GB"), example.visit, null);
    expect(forPatient.map((p) => p.who)).toEqual(["You", "Your family doctor", "Our clinic", "Ines Okoro"]);
    expect(forPatient[0]?.actions.map((a) => a.action)).toEqual(["Take a photo.", "Call us."]);
  });
});

describe("a copy", () => {
  const letter = compose("referral-letter", example, { recipient: gp });
  const copy = compose("referral-letter", example, { recipient: nurse });

  it("stands at its own address and says to whom the letter was written", () => {
    expect(copy.html).toContain("School Lane");
    expect(copy.html).not.toContain("1 Fish Street");
    expect(wordsIn(copy.html)).toContain("This letter was written to Dr Ilse Brandt.");
    expect(wordsIn(letter.html)).not.toContain("Copy for your information");
  });

  it("keeps you for the person the letter was written to", () => {
    const asked = (html: string) => /What we ask of you<\/dt>([\s\S]*?)<\/dd>/u.exec(html)?.[1] ?? "";
    expect(asked(copy.html)).toContain("Check iron.");
    expect(asked(copy.html)).toBe(asked(letter.html));
    expect(wordsIn(copy.html)).toContain("Dear Dr Brandt");
  });
});
