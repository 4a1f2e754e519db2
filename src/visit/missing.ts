/** What a letter cannot do without, and what it is poorer without: errors and warnings about what is left out. */
import type { Look } from "./look.js";

/** Reports every key that a visit must have. A draft may still lack what only a finished letter needs. */
export function missing({ file, report }: Look): void {
  const need = (value: unknown, path: (string | number)[], key: string, what: string) => {
    if (value === undefined || value === null)
      report("missing-key", path, { message: `${what} is missing`, absent: key });
  };
  const { visit, patient } = file;
  if (file.format === undefined) {
    report("format-assumed", [], {
      absent: "format",
      message: "format is left out; format 1 is assumed",
      suggestion: "format: 1",
    });
  }
  need(visit, [], "visit", "the visit (visit)");
  if (visit) {
    need(visit.id, ["visit"], "id", "the visit's number (visit.id)");
    need(visit.date, ["visit"], "date", "the day of the visit (visit.date)");
    need(visit.seen_by, ["visit"], "seen_by", "who saw the patient (visit.seen_by)");
    if (visit.status === undefined) {
      report("status-assumed", ["visit"], {
        absent: "status",
        message: "status is left out; a draft is assumed",
        suggestion: "status: draft",
      });
    }
    if (!visit.reason) {
      report("reason-missing", ["visit"], {
        absent: "reason",
        message: "the reason for the visit is left out",
        severity: visit.status === "signed" ? "error" : "warning",
        expected: "reason: a sentence",
      });
    }
  }
  need(patient, [], "patient", "the patient (patient)");
  if (patient) {
    need(patient.id, ["patient"], "id", "the patient's number (patient.id)");
    need(patient.name, ["patient"], "name", "the patient's name (patient.name)");
    if (patient.name)
      need(patient.name.family, ["patient", "name"], "family", "the family name (patient.name.family)");
    need(patient.born, ["patient"], "born", "the date of birth (patient.born)");
    if (patient.sex === undefined) {
      report("sex-missing", ["patient"], {
        absent: "sex",
        message: "sex is left out; the letter will say not stated",
        expected: "female, male, intersex, not stated",
      });
    }
  }
  missingInLists({ file, report }, need);
}

type Need = (value: unknown, path: (string | number)[], key: string, what: string) => void;

/** Entries of lists that lack their main key. */
function missingInLists({ file }: Look, need: Need): void {
  const each = <T extends object>(
    list: readonly (T | null)[] | null | undefined,
    name: string,
    keys: readonly (keyof T & string)[],
  ) => {
    for (const [i, entry] of (list ?? []).entries()) {
      if (entry === null) continue;
      for (const key of keys) need(entry[key], [name, i], key, `${key} of entry ${i + 1} under ${name}`);
    }
  };
  each(file.send_to, "send_to", ["role", "name"]);
  each(file.sites, "sites", ["site"]);
  each(file.pull_test, "pull_test", ["site", "pulled", "came_out"]);
  each(file.tests, "tests", ["name"]);
  each(file.impression, "impression", ["disorder", "certainty"]);
  each(file.plan, "plan", ["who", "action"]);
  each(file.accept, "accept", ["id", "reason"]);
  for (const [i, site] of (file.sites ?? []).entries()) {
    if (!site) continue;
    const at = ["sites", i];
    if (site.at) {
      need(site.at.x, [...at, "at"], "x", "x of the place");
      need(site.at.y, [...at, "at"], "y", "y of the place");
    }
    if (site.patch) {
      need(site.patch.length_mm, [...at, "patch"], "length_mm", "the length of the patch (length_mm)");
      need(site.patch.width_mm, [...at, "patch"], "width_mm", "the width of the patch (width_mm)");
    }
    for (const [j, photo] of (site.photos ?? []).entries())
      if (photo) need(photo.file, [...at, "photos", j], "file", "the file of the photograph");
  }
  if (file.follow_up)
    need(file.follow_up.weeks, ["follow_up"], "weeks", "the number of weeks (follow_up.weeks)");
}
