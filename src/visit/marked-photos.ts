/**
 * Marks beside the photos of a visit: what they count and measure fills the visit as if typed, and a typed number that they
 * contradict is told with both values.
 */
import { hasError, type Problem } from "../base/problem.js";
import type { KeyPath, YamlSource } from "../base/yaml-source.js";
import { type Counted, count } from "../picture/count.js";
import { HAIRS, type Marks, marksFileOf } from "../picture/marks.js";
import type { FindingWords } from "../picture/marks-schema.js";
import type { MarksProblemId, Said } from "../picture/problems.js";
import { problemAt, readMarks } from "../picture/read-marks.js";
import { entries } from "./check-context.js";
import type { FieldEntry, SiteEntry, VisitFile } from "./schema.js";

/** What lies beside a photo, as whoever reads the disk found it. */
export interface BesidePhoto {
  /** Text of its marks file, or why it cannot be read. */
  readonly text: string | undefined;
  readonly problems: readonly Problem[];
  /** SHA-256 of the photo; absent when it is not there, which is told elsewhere. */
  readonly sha256?: string;
}

/** By a photo's name in the visit; undefined where it has no marks. */
export type PhotoReader = (photo: string) => BesidePhoto | undefined;

/** A photo of a Visit with its marks. */
export interface MarkedPhoto {
  readonly siteIndex: number;
  readonly photoIndex: number;
  readonly marks: Marks;
}

/** Findings that a counted field has a key for. */
const FIELD_DOTS = {
  yellow_dots: "yellow-dots",
  discoloured_openings: "perifollicular-discoloration",
} as const;

type FieldKey = Exclude<keyof FieldEntry, "units">;

interface Read {
  readonly index: number;
  readonly name: string;
  readonly field: number | undefined;
  readonly marks: Marks;
  readonly counted: Counted;
}

export interface Filled {
  readonly values: VisitFile;
  readonly marked: readonly MarkedPhoto[];
  readonly problems: readonly Problem[];
}

/** The values of a visit file with what the marks of its photos say. `source` is the visit file. */
export function fillFromMarks(
  values: VisitFile,
  source: YamlSource,
  beside: PhotoReader,
  words: FindingWords,
): Filled {
  const problems: Problem[] = [];
  const marked: MarkedPhoto[] = [];
  const report = (id: MarksProblemId, path: KeyPath, said: Said) =>
    problems.push(problemAt(source, id, path, said));
  const filled = new Map<number, SiteEntry>();
  for (const [number, [i, site]] of entries(values.sites).entries()) {
    const read = entries(site.photos).flatMap(([j, photo], photoIndex): Read[] => {
      const found = photo.file === undefined ? undefined : beside(photo.file);
      if (!found || photo.file === undefined) return [];
      const name = marksFileOf(photo.file);
      problems.push(...found.problems);
      if (found.text === undefined) return [];
      const photoSeen = found.sha256 === undefined ? undefined : { sha256: found.sha256 };
      const { value: marks, problems: inMarks } = readMarks(
        found.text,
        inFolderOf(source.file, name),
        words,
        photoSeen,
      );
      problems.push(...inMarks);
      if (!marks || hasError(inMarks)) return [];
      marked.push({ siteIndex: number, photoIndex, marks });
      return [{ index: j, name, field: photo.field, marks, counted: count(marks) }];
    });
    if (read.length === 0) continue;
    againstField(values, read, report);
    const fields = withFields(site, read, (id, path, said) => report(id, ["sites", i, ...path], said));
    const widths = withDiameters(site, read, (id, path, said) => report(id, ["sites", i, ...path], said));
    filled.set(i, { ...site, ...(fields ? { fields } : {}), ...(widths ? { diameters_um: widths } : {}) });
  }
  if (filled.size === 0) return { values, marked, problems };
  const sites = (values.sites ?? []).map((site, i) => filled.get(i) ?? site);
  return { values: { ...values, sites }, marked, problems };
}

/** `patients/TS/visit.yaml`, `photos/left-1.marks.yaml` -> `patients/TS/photos/left-1.marks.yaml` */
const inFolderOf = (file: string, name: string) => file.replace(/[^/\\]*$/u, "") + name;

type Report = (id: MarksProblemId, path: KeyPath, said: Said) => void;

/** Fields may differ by this share where one is read off the other (common practice, no source). */
const FIELD_APART = 0.02;

/** One lens has one field: what the scope says and what the marks say. */
function againstField(values: VisitFile, read: readonly Read[], report: Report): void {
  const typed = values.scope?.field_diameter_mm;
  for (const { name, marks } of read) {
    if (typed === undefined || marks.scale?.kind !== "field") continue;
    const { diameterMm } = marks.scale.field;
    if (Math.abs(diameterMm / typed - 1) <= FIELD_APART) continue;
    report("field-against-marks", ["scope", "field_diameter_mm"], {
      message: `a field of ${typed} mm, and ${name} has one of ${diameterMm} mm`,
      found: `${typed} mm`,
      expected: `${diameterMm} mm, or other marks`,
    });
  }
}

/** The counts of a field that marks tell. */
function countsOf({ marks, counted }: Read): FieldEntry {
  const isCounted = marks.counted.includes(HAIRS);
  const { thin, vellus } = counted.classes;
  const sizes = Object.keys(counted.units);
  const dots = Object.entries(FIELD_DOTS).flatMap(([key, finding]) =>
    marks.counted.includes(finding) ? [[key, counted.dots[finding] ?? 0] as const] : [],
  );
  return {
    ...(isCounted ? { hairs: counted.hairs } : {}),
    ...(isCounted && counted.classed ? { thin: thin + vellus, vellus } : {}),
    ...(isCounted && counted.inUnits && counted.hairs > 0 && sizes.every((size) => Number(size) <= 9)
      ? { units: counted.units }
      : {}),
    ...Object.fromEntries(dots),
    ...(counted.areaMm2 === undefined ? {} : { area_mm2: round(counted.areaMm2) }),
  };
}

const round = (value: number) => Number(value.toPrecision(4));

function withFields(site: SiteEntry, read: readonly Read[], report: Report): SiteEntry["fields"] | undefined {
  const counting = read.filter((photo) => Object.keys(countsOf(photo)).some((key) => key !== "area_mm2"));
  if (counting.length === 0) return undefined;
  const typed = site.fields ?? [];
  const taken = new Set(counting.flatMap(({ field }) => (field === undefined ? [] : [field - 1])));
  const fields: (FieldEntry | null)[] = [...typed];
  for (const photo of counting) {
    if (photo.field === undefined && typed.length > 0) {
      report("marks-without-field", ["photos", photo.index], {
        message: `${photo.name} counts a field, and the photo does not say which of those typed it shows`,
        found: "no field",
        expected: `field: 1${typed.length > 1 ? ` to ${typed.length}` : ""}`,
      });
      continue;
    }
    let at = photo.field === undefined ? 0 : photo.field - 1;
    if (photo.field === undefined) {
      while (taken.has(at)) at++;
      taken.add(at);
    }
    // A gap before it is told where photos are held against fields.
    if ([...Array(at).keys()].some((before) => before >= typed.length && !taken.has(before))) continue;
    while (fields.length <= at) fields.push(null);
    fields[at] = joined(fields[at] ?? {}, photo, ["fields", at], report);
  }
  return fields;
}

/** Counts of one field with those of marks; what stood there before is kept, and told where it is another. */
function joined(before: FieldEntry, photo: Read, path: KeyPath, report: Report): FieldEntry {
  const { units, ...counts } = countsOf(photo);
  const after: FieldEntry = { ...before };
  for (const [key, value] of Object.entries(counts) as [FieldKey, number][]) {
    const typed = before[key];
    if (typed === undefined) after[key] = value;
    else if (key === "area_mm2" ? Math.abs(typed / value - 1) > FIELD_APART : typed !== value)
      told(photo, [...path, key], typed, value, key.replaceAll("_", " "), report);
  }
  if (!units) return after;
  const typedUnits = before.units;
  if (!typedUnits) return { ...after, units };
  for (const size of new Set([...Object.keys(typedUnits), ...Object.keys(units)])) {
    const [typed, value] = [typedUnits[size] ?? 0, units[size] ?? 0];
    if (typed !== value) told(photo, [...path, "units", size], typed, value, `units of ${size}`, report);
  }
  return after;
}

function told(photo: Read, path: KeyPath, typed: number, value: number, what: string, report: Report): void {
  report("count-against-marks", path, {
    message: `${what}: ${typed} here, and ${photo.name} counts ${value}`,
    found: String(typed),
    expected: `${value}, or other marks; left out here, it is taken from the marks`,
  });
}

/** A typed diameter is that of a line when they differ by no more than this: people write whole micrometres. */
const SAME_UM = 0.5;

function withDiameters(
  site: SiteEntry,
  read: readonly Read[],
  report: Report,
): SiteEntry["diameters_um"] | undefined {
  const measured = read.flatMap(({ counted }) => counted.widthsUm.map((um) => Number(um.toFixed(1))));
  if (measured.length === 0) return undefined;
  const typed = (site.diameters_um ?? []).flatMap((um, j) =>
    um === null || um === undefined ? [] : [{ um, j }],
  );
  if (typed.length === 0) return measured;
  const left = [...measured];
  const names = read.filter(({ counted }) => counted.widthsUm.length > 0).map(({ name }) => name);
  for (const { um, j } of typed) {
    const at = left.findIndex((value) => Math.abs(value - um) <= SAME_UM + 1e-9);
    if (at >= 0) {
      left.splice(at, 1);
      continue;
    }
    const near = left.toSorted((a, b) => Math.abs(a - um) - Math.abs(b - um))[0];
    report("diameter-against-marks", ["diameters_um", j], {
      message: `a diameter of ${um} micrometres that no line of ${names.join(", ")} measures${near === undefined ? "" : `; the nearest measures ${near}`}`,
      found: String(um),
      expected: "a width that is marked; left out here, all are taken from the marks",
    });
  }
  const [first] = left;
  if (left.length > 0 && typed.length < measured.length)
    report("diameter-against-marks", ["diameters_um"], {
      message: `${typed.length} ${typed.length === 1 ? "diameter" : "diameters"} here, and ${names.join(", ")} measures ${measured.length}; ${first} micrometres is missing`,
      found: String(typed.length),
      expected: `${measured.length} diameters; left out here, all are taken from the marks`,
    });
  return measured;
}
