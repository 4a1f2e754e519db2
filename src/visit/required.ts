/** The keys a file must have, as one table: the reader reports them, the JSON Schema demands them. */
import type { KeyPath } from "../base/yaml-source.js";
import type { Report } from "./report.js";

export interface RequiredKey {
  /** Where, such as `visit`, `sites[].patch` or `people.*`; the top is "". */
  readonly at: string;
  readonly key: string;
  /** What is missing, in words. */
  readonly says: string;
}

const row = (at: string, key: string, says: string): RequiredKey => ({ at, key, says });

export const VISIT_REQUIRED: readonly RequiredKey[] = [
  row("", "visit", "the visit"),
  row("visit", "id", "the visit's number"),
  row("visit", "date", "the day of the visit"),
  row("visit", "seen_by", "who saw the patient"),
  row("", "patient", "the patient"),
  row("patient", "id", "the patient's number"),
  row("patient", "name", "the patient's name"),
  row("patient.name", "family", "the family name"),
  row("patient", "born", "the date of birth"),
  row("send_to[]", "role", "the role of the recipient"),
  row("send_to[]", "name", "the name of the recipient"),
  row("pull_test[]", "site", "the site of the pull test"),
  row("pull_test[]", "pulled", "how many hairs were pulled"),
  row("pull_test[]", "came_out", "how many hairs came out"),
  row("sites[]", "site", "the name of the site"),
  row("sites[].at", "x", "x of the place"),
  row("sites[].at", "y", "y of the place"),
  row("sites[].patch", "length_mm", "the length of the patch"),
  row("sites[].patch", "width_mm", "the width of the patch"),
  row("sites[].photos[]", "file", "the file of the photograph"),
  row("tests[]", "name", "the name of the test"),
  row("impression[]", "disorder", "the disorder"),
  row("impression[]", "certainty", "the certainty"),
  row("plan[]", "who", "who does it"),
  row("plan[]", "action", "what is to be done"),
  row("follow_up", "weeks", "the number of weeks"),
  row("accept[]", "id", "the id of the message accepted"),
  row("accept[]", "reason", "the reason for accepting"),
  row("signed", "by", "who signs"),
  row("signed", "at", "the moment of signing"),
];

export const CLINIC_REQUIRED: readonly RequiredKey[] = [
  row("", "name", "the clinic's name"),
  row("", "lines", "the clinic's address"),
  row("", "phone", "the clinic's telephone"),
  row("", "people", "the people of the clinic"),
  row("people.*", "name", "the person's name"),
  row("people.*", "role", "the person's role"),
  row("emergency[]", "label", "the label of the line"),
  row("emergency[]", "number", "the number of the line"),
];

/** Reports each required key that is left out or left empty. */
export function reportRequired(file: unknown, required: readonly RequiredKey[], report: Report): void {
  for (const { at, key, says } of required) {
    for (const [path, map] of mapsAt(
      file,
      at.split(/(?=\[\])|\./u).filter((s) => s !== ""),
      [],
    )) {
      if (map[key] !== undefined && map[key] !== null) continue;
      report("missing-key", path, { message: `${says} (${key}) is missing`, absent: key });
    }
  }
}

type Placed = [KeyPath, Readonly<Record<string, unknown>>];

function mapsAt(value: unknown, steps: readonly string[], path: KeyPath): Placed[] {
  if (value === null || typeof value !== "object") return [];
  const [step, ...rest] = steps;
  if (step === undefined) return Array.isArray(value) ? [] : [[path, value as Record<string, unknown>]];
  if (step === "[]")
    return Array.isArray(value) ? value.flatMap((entry, i) => mapsAt(entry, rest, [...path, i])) : [];
  const keys = step === "*" ? Object.keys(value) : [step];
  return keys.flatMap((key) => mapsAt((value as Record<string, unknown>)[key], rest, [...path, key]));
}
