/** A visit -> an HL7 FHIR R4 document Bundle (4.0.1). It holds what was recorded and counted; the engine's own view stays out. */
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import type { Clinic } from "../visit/clinic.js";
import type { Visit } from "../visit/visit.js";
import {
  compositionResource,
  conditionResource,
  letterResource,
  momentOf,
  type PrintedLetter,
  reportResource,
} from "./fhir-document.js";
import {
  extentObservation,
  measureObservation,
  placeOfMeasure,
  pullObservation,
  siteObservation,
  testObservation,
} from "./fhir-observations.js";
import { type DocumentFrame, type Entry, entryOf, type Resource, referTo, uuidOf } from "./fhir-parts.js";
import { organizationResource, patientResource, practitionerResource } from "./fhir-people.js";

export interface FhirInput {
  readonly visit: Visit;
  readonly clinic: Clinic;
  readonly measures: Measures;
  readonly knowledge: Knowledge;
  /** The letters as printed, one for each addressee; left out, the bundle has no DocumentReference. */
  readonly letters?: readonly PrintedLetter[];
  /** The moment the bundle is put together, with its offset: a document must tell one. */
  readonly assembled: string;
}

export interface FhirBundle {
  readonly resourceType: "Bundle";
  readonly id: string;
  readonly language: string;
  readonly identifier: { readonly system: string; readonly value: string };
  readonly type: "document";
  readonly timestamp: string;
  readonly entry: readonly Entry[];
}

/** Our own words are English; what a clinician wrote stands as written. */
const languageOf = ({ language }: Clinic): string => (/^en\b/iu.test(language) ? language : "en");

/**
 * The document Bundle of a visit. Ids are made from clinic, patient and visit numbers, so that the same visit gives the same
 * bundle, save for the moment it is put together; an unsigned visit is preliminary throughout.
 */
export function toFhir({
  visit,
  clinic,
  measures,
  knowledge,
  letters = [],
  assembled,
}: FhirInput): FhirBundle {
  const person = Object.hasOwn(clinic.people, visit.seenBy) ? clinic.people[visit.seenBy] : undefined;
  const ids = {
    patient: uuidOf(clinic.name, "patient", visit.patient.id),
    practitioner: uuidOf(clinic.name, "person", visit.seenBy),
    organization: uuidOf(clinic.name, "clinic"),
  };
  const { title, given, family } = visit.patient.name;
  const frame: DocumentFrame = {
    clinic: clinic.name,
    visit: visit.id,
    language: languageOf(clinic),
    date: visit.date,
    signed: visit.status === "signed",
    moment: momentOf(visit),
    patient: referTo(ids.patient, [title, given, family].filter(Boolean).join(" ")),
    practitioner: referTo(ids.practitioner, person?.name ?? visit.seenBy),
    organization: referTo(ids.organization, clinic.name),
  };
  const sites = visit.sites.map((site, i) => siteObservation(frame, site, i, knowledge));
  const extent = visit.extent ? extentObservation(frame, visit.extent) : undefined;
  const counted: Resource[] = [
    ...visit.pullTest.map((pull, i) => pullObservation(frame, pull, i)),
    ...(extent ? [extent] : []),
    ...measures.measured.map((m, i) => {
      const place = placeOfMeasure(m);
      const before = measures.measured.slice(0, i).filter((other) => placeOfMeasure(other) === place).length;
      return measureObservation(frame, m, before, knowledge);
    }),
  ];
  const tests = visit.tests.map((test, i) => testObservation(frame, test, i));
  const impressions = visit.impression.map((line, i) => conditionResource(frame, line, i, knowledge));
  const report = reportResource(frame, visit, [...sites, ...counted], knowledge);
  const printed = letters.map((letter, i) => letterResource(frame, letter, i + 1));
  const parts = {
    impressions,
    report,
    sites,
    measures: counted,
    tests,
    letters: printed,
  };
  const composition = compositionResource(frame, visit, parts, knowledge);
  return {
    resourceType: "Bundle",
    id: uuidOf(clinic.name, "visit", visit.id, "bundle"),
    language: frame.language,
    identifier: {
      system: "urn:ietf:rfc:3986",
      value: `urn:uuid:${uuidOf(clinic.name, "visit", visit.id, "bundle")}`,
    },
    type: "document",
    timestamp: assembled,
    entry: [
      composition,
      patientResource(ids.patient, visit.patient, clinic),
      practitionerResource(ids.practitioner, visit.seenBy, person, clinic),
      organizationResource(ids.organization, clinic),
      ...impressions,
      report,
      ...sites,
      ...counted,
      ...tests,
      ...printed,
    ].map(entryOf),
  };
}
