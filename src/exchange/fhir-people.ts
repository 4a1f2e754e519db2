/** Patient, clinician and clinic as FHIR resources. */
import type { Clinic, ClinicPerson } from "../visit/clinic.js";
import type { Patient, Sex } from "../visit/visit.js";
import { narrative, type Resource } from "./fhir-parts.js";

/** Administrative gender knows four words; intersex is told as other. */
const GENDER: Readonly<Record<Sex, string>> = {
  female: "female",
  male: "male",
  intersex: "other",
  "not stated": "unknown",
};

export function patientResource(id: string, patient: Patient, clinic: Clinic): Resource {
  const { title, given, family } = patient.name;
  const whole = [title, given, family].filter(Boolean).join(" ");
  return {
    resourceType: "Patient",
    id,
    text: narrative(`${whole}, born ${patient.born}, ${patient.sex}, number ${patient.id}`),
    identifier: [{ use: "usual", value: patient.id, assigner: { display: clinic.name } }],
    name: [
      {
        use: "official",
        text: whole,
        family,
        ...(given ? { given: given.split(/\s+/u) } : {}),
        ...(title ? { prefix: [title] } : {}),
      },
    ],
    gender: GENDER[patient.sex],
    birthDate: patient.born,
    ...(patient.address.length > 0 ? { address: [addressOf(patient.address)] } : {}),
    communication: [
      { language: { coding: [{ system: "urn:ietf:bcp:47", code: patient.language }] }, preferred: true },
    ],
  };
}

export function practitionerResource(id: string, key: string, person: ClinicPerson | undefined): Resource {
  const name = person?.name ?? key;
  const about = [name, person?.qualifications, person?.role, person?.registration].filter(Boolean).join(", ");
  return {
    resourceType: "Practitioner",
    id,
    text: narrative(about),
    ...(person?.registration ? { identifier: [{ use: "official", value: person.registration }] } : {}),
    name: [{ text: name }],
    ...(person?.qualifications ? { qualification: [{ code: { text: person.qualifications } }] } : {}),
  };
}

export function organizationResource(id: string, clinic: Clinic): Resource {
  const telecom = [
    { system: "phone", value: clinic.phone, use: "work" },
    ...(clinic.email ? [{ system: "email", value: clinic.email, use: "work" }] : []),
    ...(clinic.web ? [{ system: "url", value: clinic.web }] : []),
  ];
  return {
    resourceType: "Organization",
    id,
    text: narrative([clinic.name, ...clinic.lines, clinic.phone].join(", ")),
    name: clinic.name,
    telecom,
    ...(clinic.lines.length > 0 ? { address: [addressOf(clinic.lines)] } : {}),
  };
}

/** Lines as written; a program cannot know which of them is the town. */
function addressOf(lines: readonly string[]): Readonly<Record<string, unknown>> {
  return { text: lines.join(", "), line: [...lines] };
}
