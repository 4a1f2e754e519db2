/** People and clinic as FHIR resources, whole: with all that is known of them, and with the least. */
import { expect, test } from "vitest";
import type { Resource } from "../../src/exchange/fhir-parts.js";
import {
  humanName,
  organizationResource,
  patientResource,
  practitionerResource,
} from "../../src/exchange/fhir-people.js";
import type { Clinic } from "../../src/visit/clinic.js";
import type { Patient } from "../../src/visit/visit.js";

const clinic = {
  name: "Skerry Hair Room",
  lines: ["7 Slipway", "Tarn Sound"],
  phone: "01632 960777",
} as unknown as Clinic;
const bare = ({ text: _text, ...rest }: Resource) => rest;
const series = expect.stringMatching(/^urn:uuid:[0-9a-f-]{36}$/u);

test("a clinic has its telephone, and e-mail and page where it has them", () => {
  const phone = { system: "phone", value: "01632 960777", use: "work" };
  expect(bare(organizationResource("o", clinic))).toEqual({
    resourceType: "Organization",
    id: "o",
    name: "Skerry Hair Room",
    telecom: [phone],
    address: [{ text: "7 Slipway, Tarn Sound", line: ["7 Slipway", "Tarn Sound"] }],
  });
  expect(
    bare(
      organizationResource("o", {
        ...clinic,
        lines: [],
        email: "a@skerry.example",
        web: "https://skerry.example",
      }),
    ),
  ).toEqual({
    resourceType: "Organization",
    id: "o",
    name: "Skerry Hair Room",
    telecom: [
      phone,
      { system: "email", value: "a@skerry.example", use: "work" },
      { system: "url", value: "https://skerry.example" },
    ],
  });
});

test("a patient has every part of the name, and nothing that is not recorded", () => {
  const patient = {
    id: "TS-1",
    name: { title: "Ms", given: "Runa Maj", family: "Sandvik" },
    born: "1991-07-04",
    sex: "intersex",
    address: ["1 Fish Street"],
    language: "nb",
  } as unknown as Patient;
  const common = {
    resourceType: "Patient",
    id: "p",
    identifier: [{ use: "usual", system: series, value: "TS-1", assigner: { display: "Skerry Hair Room" } }],
    birthDate: "1991-07-04",
    communication: [{ language: { coding: [{ system: "urn:ietf:bcp:47", code: "nb" }] }, preferred: true }],
  };
  expect(bare(patientResource("p", patient, clinic))).toEqual({
    ...common,
    name: [
      {
        use: "official",
        text: "Ms Runa Maj Sandvik",
        family: "Sandvik",
        given: ["Runa", "Maj"],
        prefix: ["Ms"],
      },
    ],
    gender: "other",
    address: [{ text: "1 Fish Street", line: ["1 Fish Street"] }],
  });
  const least = {
    ...patient,
    name: { family: "Sandvik" },
    sex: "not stated",
    address: [],
  } as unknown as Patient;
  expect(bare(patientResource("p", least, clinic))).toEqual({
    ...common,
    name: [{ use: "official", text: "Sandvik", family: "Sandvik" }],
    gender: "unknown",
  });
});

test("a practitioner is told by the key where nobody is known by it", () => {
  const person = {
    name: "Dr Runa Sandvik",
    role: "Consultant",
    qualifications: "MD",
    registration: "R-1",
    maySign: true,
  };
  expect(bare(practitionerResource("c", "runa", person, clinic))).toEqual({
    resourceType: "Practitioner",
    id: "c",
    identifier: [{ use: "official", system: series, value: "R-1" }],
    name: [{ text: "Dr Runa Sandvik", family: "Sandvik", given: ["Runa"], prefix: ["Dr"] }],
    qualification: [{ code: { text: "MD" } }],
  });
  expect(bare(practitionerResource("c", "runa", undefined, clinic))).toEqual({
    resourceType: "Practitioner",
    id: "c",
    name: [{ text: "runa" }],
  });
});

test.each([
  ["Prof. Dr Runa Maj Sandvik", { family: "Sandvik", given: ["Runa", "Maj"], prefix: ["Prof.", "Dr"] }],
  ["Ada van der Lund", { family: "van der Lund", given: ["Ada"] }],
  ["Lund", {}],
  ["Dr Lund", {}],
  ["Dr", {}],
  ["山田 太郎", {}],
  ["van Lund", { family: "Lund", given: ["van"] }],
])("%s in parts", (written, parts) => {
  expect(humanName(written)).toEqual({ text: written, ...parts });
});
