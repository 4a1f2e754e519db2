/** Patient, clinician and clinic as FHIR resources. */
import type { Clinic, ClinicPerson } from "../visit/clinic.js";
import type { Patient, Sex } from "../visit/visit.js";
import { narrative, type Resource, uuidOf } from "./fhir-parts.js";

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
    identifier: [
      {
        use: "usual",
        system: numbersOf(clinic, "patient"),
        value: patient.id,
        assigner: { display: clinic.name },
      },
    ],
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

/** The clinic's own series of numbers, as a name that is the same in each of its documents and in no other's. */
const numbersOf = (clinic: Clinic, what: string): string =>
  `urn:uuid:${uuidOf(clinic.name, what, "numbers")}`;

/** A name as written, and in parts where it is two words or more in Latin letters. */
export function humanName(written: string): Readonly<Record<string, unknown>> {
  const words = written.trim().split(/\s+/u);
  const titles = words.findIndex((word) => !TITLE.test(word));
  const [prefix, rest] = [words.slice(0, Math.max(0, titles)), words.slice(Math.max(0, titles))];
  if (rest.length < 2 || !/^[\p{Script=Latin}\p{M}.'’ -]+$/u.test(rest.join(" "))) return { text: written };
  const particle = rest.findIndex((word, i) => i > 0 && /^\p{Ll}/u.test(word));
  const from = particle === -1 ? rest.length - 1 : particle;
  return {
    text: written,
    family: rest.slice(from).join(" "),
    given: rest.slice(0, from),
    ...(prefix.length > 0 ? { prefix } : {}),
  };
}

const TITLE = /^(?:dr|prof|professor|mr|mrs|ms|miss|mx|sr|fr|dra|hr|nurse|sister)\.?$/iu;

export function practitionerResource(
  id: string,
  key: string,
  person: ClinicPerson | undefined,
  clinic: Clinic,
): Resource {
  const name = person?.name ?? key;
  const about = [name, person?.qualifications, person?.role, person?.registration].filter(Boolean).join(", ");
  return {
    resourceType: "Practitioner",
    id,
    text: narrative(about),
    ...(person?.registration
      ? {
          identifier: [
            { use: "official", system: numbersOf(clinic, "registration"), value: person.registration },
          ],
        }
      : {}),
    name: [humanName(name)],
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
