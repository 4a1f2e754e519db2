import { describe, expect, it } from "vitest";
import { loadPack } from "../../src/letter/pack.js";
import { fullName, recipientSalutation, roleText, shortName } from "../../src/letter/people.js";
import type { Words } from "../../src/letter/phrases.js";
import type { Patient, Recipient } from "../../src/visit/visit.js";
import { compose, exampleOf, withVisit, wordsIn } from "./compose.js";

function words(language: string): Words {
  const { pack } = loadPack(language);
  if (!pack) throw new Error(language);
  return pack.words;
}
const en = words("en-GB");
const de = words("de");
const es = words("es");

function recipient(name: string): Recipient {
  return { role: "general practitioner", name, address: [], copy: false };
}

describe("a recipient is addressed", () => {
  it.each([
    ["Dr Ilse Brandt", "Dear Dr Brandt"],
    ["Dr. Ilse Brandt", "Dear Dr Brandt"],
    ["Dr Brandt", "Dear Dr Brandt"],
    ["Prof María José de la Cruz Ibáñez", "Dear Prof José de la Cruz Ibáñez"],
    ["Ilse Brandt", "Dear Ilse Brandt"],
    ["The Harbour Practice", "Dear The Harbour Practice"],
    ["Dr", "Dear Dr"],
  ])("%s as %s", (name, said) => {
    expect(recipientSalutation(en, recipient(name))).toBe(`${said},`);
  });

  it("by the title of the language, without a guess at sex", () => {
    expect(recipientSalutation(de, recipient("Dr Ilse Brandt"))).toBe("Guten Tag Dr. Brandt,");
    expect(recipientSalutation(es, recipient("Ms Ilse Brandt"))).toBe("Buenos días, Sra. Brandt:");
  });

  it("by a role in the language, and by the role as written where it is not known", () => {
    expect(roleText(de, "General Practitioner")).toBe("Hausarztpraxis");
    expect(roleText(de, "school chaplain")).toBe("school chaplain");
    expect(roleText(en, "constructor")).toBe("constructor");
  });
});

describe("a patient is named", () => {
  const patient: Patient = {
    ...exampleOf("TS-2026-0141").visit.patient,
    name: { title: "Ms", given: "Marit", family: "Solheim-Adeyemi" },
  };

  it("in full with the title of the language, the names untouched", () => {
    expect(fullName(en, patient)).toBe("Ms Marit Solheim-Adeyemi");
    expect(fullName(de, patient)).toBe("Frau Marit Solheim-Adeyemi");
    expect(fullName(de, { ...patient, name: { ...patient.name, title: "Rev" } })).toBe(
      "Rev Marit Solheim-Adeyemi",
    );
  });

  it("in short by title and family name, or by given name for a child or without a title", () => {
    expect(shortName(en, patient, false)).toBe("Ms Solheim-Adeyemi");
    expect(shortName(en, patient, true)).toBe("Marit");
    const untitled: Patient = { ...patient, name: { given: "Marit", family: "Solheim-Adeyemi" } };
    expect(shortName(en, untitled, false)).toBe("Marit Solheim-Adeyemi");
    expect(fullName(en, untitled)).toBe("Marit Solheim-Adeyemi");
  });

  it("to the parent or carer while a child", () => {
    const boy = exampleOf("TS-2026-0263");
    expect(wordsIn(compose("handout", boy, { language: "en-GB" }).html)).toContain(
      `Dear parent or carer of ${boy.visit.patient.name.given}`,
    );
    const grown = withVisit(boy, { patient: { ...boy.visit.patient, born: "1990-01-01" } });
    expect(wordsIn(compose("handout", grown, { language: "en-GB" }).html)).not.toContain("parent or carer");
  });
});
