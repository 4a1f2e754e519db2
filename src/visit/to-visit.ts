/** From a complete visit file to the Visit that the rest of the house sees: camel case, defaults, nothing undefined. */
import type { FieldEntry, SiteEntry, VisitFile } from "./schema.js";
import type { Answers, CountedField, Site, Visit } from "./visit.js";

/** The Visit of a file in which nothing required is missing; throws on one that was not checked. */
export function toVisit(file: VisitFile): Visit {
  const visit = must(file.visit);
  const history = file.history ?? {};
  const scope = file.scope ?? {};
  const value: Visit = {
    format: 1,
    id: must(visit.id),
    date: must(visit.date),
    status: visit.status ?? "draft",
    seenBy: must(visit.seen_by),
    reason: visit.reason ?? "",
    patient: toPatient(must(file.patient)),
    sendTo: present(file.send_to).map((to) => ({
      role: must(to.role),
      name: must(to.name),
      address: to.address ?? [],
      copy: to.copy ?? false,
      purpose: to.purpose,
    })),
    asked: answers(file.asked),
    history: {
      began: toBegan(history.began),
      durationWeeks: history.duration_weeks,
      onset: history.onset,
      course: history.course,
      shedding: history.shedding,
      symptoms: { ...history.symptoms },
      family: history.family ?? [],
      past: history.past ?? [],
      medicines: history.medicines ?? [],
      exposures: history.exposures?.length ? history.exposures : undefined,
      allergies: history.allergies ?? [],
      triggers: history.triggers ?? [],
      hairCare: history.hair_care ?? [],
      contacts: history.contacts ?? [],
      notes: history.notes,
    },
    examination: toExamination(file.examination ?? {}),
    pullTest: present(file.pull_test).map((pull) => ({
      site: must(pull.site),
      pulled: must(pull.pulled),
      cameOut: must(pull.came_out),
      anagen: pull.anagen,
    })),
    scope: {
      magnification: scope.magnification,
      light: scope.light,
      contact: scope.contact,
      fieldDiameterMm: scope.field_diameter_mm,
    },
    sites: present(file.sites).map(toSite),
    extent: file.extent ? { ...file.extent } : undefined,
    scores: Object.fromEntries((file.scores ?? []).map(({ score, inputs }) => [score, { ...inputs }])),
    tests: present(file.tests).map((test) => ({
      ...test,
      name: must(test.name),
      range: test.range ? { ...test.range } : undefined,
    })),
    impression: present(file.impression).map((line) => ({
      disorder: must(line.disorder),
      certainty: must(line.certainty),
      note: line.note,
      inHandout: line.in_handout,
    })),
    plan: present(file.plan).map((line) => ({
      who: must(line.who),
      action: must(line.action),
      when: line.when,
      by: line.by,
      urgency: line.urgency,
      answers: line.answers,
      declined: line.declined,
    })),
    followUp: file.follow_up ? { weeks: must(file.follow_up.weeks) } : undefined,
    told: file.told,
    accept: present(file.accept).map(({ id, reason }) => ({ id: must(id), reason: must(reason) })),
    signed: file.signed ? { ...file.signed, by: must(file.signed.by), at: must(file.signed.at) } : undefined,
  };
  return withoutUndefined(value);
}

function toPatient(patient: NonNullable<VisitFile["patient"]>): Visit["patient"] {
  const name = must(patient.name);
  return {
    id: must(patient.id),
    name: { title: name.title, given: name.given ?? "", family: must(name.family) },
    born: must(patient.born),
    sex: patient.sex ?? "not stated",
    phototype: patient.phototype,
    ancestry: patient.ancestry,
    pregnancy: patient.pregnancy,
    address: patient.address ?? [],
    language: patient.language ?? "en-GB",
    largePrint: patient.large_print ?? false,
  };
}

function toExamination(seen: NonNullable<VisitFile["examination"]>): Visit["examination"] {
  const { lymph_nodes: lymphNodes, body_hair: bodyHair, pattern, signs, ...rest } = seen;
  return {
    pattern: pattern?.length ? pattern : undefined,
    signs: answers(signs),
    ...rest,
    lymphNodes,
    bodyHair,
  };
}

function toBegan(began: NonNullable<VisitFile["history"]>["began"]): Visit["history"]["began"] {
  if (!began) return undefined;
  const { when, weeks_before: weeksBefore, age_years: ageYears } = began;
  return when === undefined && weeksBefore === undefined && ageYears === undefined
    ? undefined
    : { when, weeksBefore, ageYears };
}

const answers = (lines: VisitFile["asked"]): Answers | undefined =>
  lines?.length ? Object.fromEntries(lines.map(({ id, yes }) => [id, yes])) : undefined;

function toSite(site: SiteEntry): Site {
  const { at, patch } = site;
  const absent = (site.none_of ?? []).map((finding) => ({ finding, seen: { state: "absent" as const } }));
  return {
    site: must(site.site),
    at: at ? { x: must(at.x), y: must(at.y) } : undefined,
    patch: patch
      ? { lengthMm: must(patch.length_mm), widthMm: must(patch.width_mm), margin: patch.margin }
      : undefined,
    findings: [...(site.findings ?? []).map(({ finding, seen }) => ({ finding, seen })), ...absent],
    fields: present(site.fields).map(toField),
    diametersUm: (site.diameters_um ?? []).flatMap((diameter) => diameter ?? []),
    photos: present(site.photos).map((photo) => ({
      file: must(photo.file),
      field: photo.field,
      caption: photo.caption,
    })),
    signs: answers(site.signs),
    notes: site.notes,
  };
}

function toField(field: FieldEntry): CountedField {
  const { units, yellow_dots: yellowDots, discoloured_openings: discolouredOpenings, ...counts } = field;
  const counted: Record<string, number> = {};
  for (const [hairs, n] of Object.entries(units ?? {})) if (n !== undefined) counted[hairs] = n;
  return { ...counts, units: units ? counted : undefined, yellowDots, discolouredOpenings };
}

function must<T>(value: T | null | undefined): T {
  if (value === null || value === undefined) throw new Error("a required value of the visit went unchecked");
  return value;
}

/** A list without the entries left empty. */
const present = <T>(list: readonly (T | null)[] | null | undefined): T[] =>
  (list ?? []).filter((entry): entry is T => entry !== null);

/** A deep copy without undefined values, so that equal visits are equal as JSON. */
export function withoutUndefined<T>(value: T): T {
  if (Array.isArray(value)) return value.map((entry: unknown) => withoutUndefined(entry)) as T;
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, withoutUndefined(inner)]),
  ) as T;
}
