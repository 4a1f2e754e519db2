/** Parts of a visit in words: every key that holds something is told, with its unit. */
import { expect, test } from "vitest";
import { keyLine, keyWords } from "../../src/exchange/key-words.js";
import { siteKeys } from "../../src/visit/keys/site.js";
import { topKeys } from "../../src/visit/keys.js";
import type { History, Site, Test } from "../../src/visit/visit.js";
import { NO_WORDS } from "../../src/visit/visit-words.js";
import { termsOf } from "../../src/visit/write.js";

const keys = topKeys(NO_WORDS);
const terms = termsOf();

test("a history, key by key", () => {
  const history: History = {
    durationWeeks: 5,
    began: { ageYears: 12 },
    symptoms: { itch: 2.5, burning: 0 },
    family: ["eczema", "asthma"],
    past: [],
    medicines: [{ name: "azathioprine", sinceWeeks: 3, for: "eczema" }, { name: "zinc" }],
    exposures: ["tight-styles"],
    allergies: [],
    triggers: [],
    hairCare: ["braids"],
    contacts: [],
    notes: "Sleeps well.",
  };
  expect(keyWords(keys.history.keys, history, terms)).toEqual([
    "Began: age 12 years",
    "Duration: 5 weeks",
    "Symptoms: itch 2.5, burning 0",
    "Family: eczema, asthma",
    "Medicines: azathioprine, since 3 weeks, for eczema; zinc",
    "Exposures: tight styles",
    "Hair care: braids",
    "Notes: Sleeps well.",
  ]);
});

test("a site: counts, absences, fields, diameters", () => {
  const site: Site = {
    site: "vertex",
    patch: { lengthMm: 32, widthMm: 25.5, margin: "sharp" },
    findings: [
      { finding: "black-dots", seen: { state: "present", amount: "many", count: { count: 14, fields: 1 } } },
      { finding: "yellow-dots", seen: { state: "absent" } },
      { finding: "comma-hairs", seen: { state: "present", amount: null } },
    ],
    fields: [{ hairs: 84, units: { "1": 21, "3": 5 } }, { discolouredOpenings: 0 }],
    diametersUm: [61, 58],
    photos: [],
    signs: { "boggy-swelling": false },
  };
  expect(keyWords(siteKeys(NO_WORDS), site, terms)).toEqual([
    "Site: vertex",
    "Patch: length 32 mm, width 25.5 mm, margin sharp",
    "Findings: black dots 14 in 1 field, yellow dots not seen, comma hairs seen",
    "Fields: hairs 84, units 21 of 1, 5 of 3; discoloured openings 0",
    "Diameters: 61, 58 micrometres",
    "Signs: boggy swelling no",
  ]);
});

test("a line of a list begins with what it is about", () => {
  const one: Test = { name: "ferritin", value: 41, unit: "ug/L", date: "2026-03-02", range: { low: 15 } };
  expect(keyLine(keys.tests.keys, one, terms)).toBe("ferritin, 41 ug/L, date 2026-03-02, range low 15");
  expect(keyLine(keys.plan.keys, { who: "patient", action: "Rest.", declined: true }, terms)).toBe(
    "patient, Rest., declined true",
  );
});
