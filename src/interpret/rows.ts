/** Evidence rows of one cell -> study shares to pool: which rows speak for this patient, and for how many patients each counts. */
import type { EvidenceRow, Knowledge } from "../knowledge/schema.js";
import type { Weighing } from "../knowledge/weighing-schema.js";
import type { StudyShare } from "./pooling.js";

/** Which subgroup words fit the visit, by axis; an axis that is unknown has none. */
export interface Profile {
  readonly fits: ReadonlySet<string>;
  readonly knownAxes: ReadonlySet<string>;
  readonly key: string;
}

export interface ChosenRows {
  readonly studies: readonly StudyShare[];
  readonly sources: readonly string[];
  /** Printed count of patients behind the rows; 0 when no row prints one. */
  readonly patients: number;
}

/** A review that prints a range has seen at least this many studies. */
const REVIEW_STUDIES = 3;

type Fit = "whole" | "fits" | "unknown" | "other";

/**
 * Chooses and weighs rows. `place` is the site word of the rows wanted, undefined for the scalp; `reading` is how the finding
 * was recorded, since some subgroup rows speak of absence only. Returns undefined when no row can be used.
 */
export function chooseRows(
  rows: readonly EvidenceRow[],
  profile: Profile,
  reading: "present" | "absent",
  place: string | undefined,
  knowledge: Knowledge,
): ChosenRows | undefined {
  const { weighing } = knowledge;
  const here = rows
    // A mean share of hairs is not a share of patients.
    .filter((r) => r.unit === undefined)
    // Rows of another place, or of any place, say nothing of the scalp.
    .filter((r) => r.site === place)
    .map((row) => ({ row, fit: fitOf(row, profile, reading, weighing) }));
  // A frequency word speaks only where no source prints a number.
  const numbered = here.filter((u) => u.row.frequency === undefined);
  const usable = numbered.some((u) => u.fit !== "other") ? numbered : here;
  const fitting = usable.filter((u) => u.fit !== "other");
  const speaking = fitting.length > 0 ? fitting : usable;
  const onlyAbsence = speaking.filter((u) => u.fit === "fits" && readsAbsence(u.row, weighing));
  const pool = onlyAbsence.length > 0 ? onlyAbsence : speaking;
  const bySource = new Map<string, typeof pool>();
  for (const u of pool) bySource.set(u.row.source, [...(bySource.get(u.row.source) ?? []), u]);
  const said = [...bySource].map(([source, all]) => {
    const chosen = oneGroup(all);
    const factor = chosen.every((u) => u.fit === "other") ? weighing.rows.mismatch : 1;
    const parts = chosen.map((u) => studiesOf(u.row, factor, knowledge));
    return {
      source,
      patients: Math.max(0, ...chosen.map((u) => u.row.of ?? 0)),
      studies: parts.length === 1 ? (parts[0] ?? []) : [merged(parts.flat())],
    };
  });
  const kept = countedOnce(said, knowledge);
  const studies = kept.flatMap((k) => k.studies);
  if (studies.length === 0) return undefined;
  return {
    studies,
    sources: kept.map((k) => k.source).sort(),
    patients: kept.reduce((sum, k) => sum + k.patients, 0),
  };
}

/** A review and the studies it covers count the same patients: where both speak, the side that weighs more does. */
function countedOnce<T extends { source: string; studies: readonly StudyShare[] }>(
  said: readonly T[],
  knowledge: Knowledge,
): readonly T[] {
  const weight = (of: readonly T[]) => of.flatMap((k) => k.studies).reduce((sum, s) => sum + s.patients, 0);
  return said.reduce<readonly T[]>((kept, review) => {
    const covers = knowledge.sources[review.source]?.covers ?? [];
    if (!kept.includes(review)) return kept;
    const covered = kept.filter((k) => covers.includes(k.source));
    if (covered.length === 0) return kept;
    const gone = weight(covered) >= weight([review]) ? [review] : covered;
    return kept.filter((k) => !gone.includes(k));
  }, said);
}

/** Rows of one source that may stand together: a fitting part, else the whole group, else parts that nothing tells apart. */
function oneGroup<T extends { fit: Fit }>(all: readonly T[]): readonly T[] {
  for (const fit of ["fits", "whole", "unknown"] as const) {
    const some = all.filter((u) => u.fit === fit);
    if (some.length > 0) return some;
  }
  return all;
}

/** Parts of one source may be the same patients at another time: their mean, for as many patients as the largest part. */
function merged(parts: readonly StudyShare[]): StudyShare {
  const patients = parts.reduce((n, p) => n + p.patients, 0);
  return {
    share: parts.reduce((sum, p) => sum + p.share * p.patients, 0) / patients,
    patients: Math.max(...parts.map((p) => p.patients)),
  };
}

function fitOf(row: EvidenceRow, profile: Profile, reading: "present" | "absent", weighing: Weighing): Fit {
  if (row.subgroup === undefined) return "whole";
  let fit: Fit = "unknown";
  for (const tag of tagsOf(row.subgroup, weighing)) {
    if (tag.reads === "absence" && reading === "present") return "other";
    if (!profile.knownAxes.has(tag.axis)) continue;
    if (!profile.fits.has(tag.word)) return "other";
    fit = "fits";
  }
  return fit;
}

function readsAbsence(row: EvidenceRow, weighing: Weighing): boolean {
  return row.subgroup !== undefined && tagsOf(row.subgroup, weighing).some((t) => t.reads === "absence");
}

type Tags = Weighing["subgroups"];

interface TagBook {
  /** Longest word first, so that `non-inflammatory` is not read as `inflammatory`. */
  readonly tags: readonly { readonly tag: Tags[number]; readonly at: RegExp }[];
  /** By wording of a row; many rows share one. */
  readonly found: Map<string, Tags>;
}

const tagBooks = new WeakMap<Weighing, TagBook>();

function tagBookOf(weighing: Weighing): TagBook {
  let book = tagBooks.get(weighing);
  if (!book) {
    const tags = weighing.subgroups
      .toSorted((x, y) => y.word.length - x.word.length)
      .map((tag) => ({ tag, at: new RegExp(`[^\\p{L}-]${tag.word}[^\\p{L}-]`, "u") }));
    book = { tags, found: new Map() };
    tagBooks.set(weighing, book);
  }
  return book;
}

/** Subgroup words that stand in the row's wording. */
function tagsOf(subgroup: string, weighing: Weighing): Tags {
  const { tags, found } = tagBookOf(weighing);
  const known = found.get(subgroup);
  if (known) return known;
  let rest = ` ${subgroup.toLowerCase()} `;
  const standing = tags.flatMap(({ tag, at }) => {
    // Most words do not stand in it, and looking for a plain text is quicker.
    if (!rest.includes(tag.word) || !at.test(rest)) return [];
    rest = rest.replace(at, " ");
    return [tag];
  });
  found.set(subgroup, standing);
  return standing;
}

/**
 * One row as one study, or as two half studies either side of its mean where the row says how far studies or observers differ. A range over studies is taken as four standard deviations (Hozo, BMC Med Res Methodol 2005;5:13).
 */
function studiesOf(row: EvidenceRow, factor: number, knowledge: Knowledge): StudyShare[] {
  const { rows } = knowledge.weighing;
  const standing = factor * (row.how === "memory" ? rows.memory : 1) * (row.implied ? rows.implied : 1);
  const counting = (patients: number) => Math.max(1, Math.min(patients, rows.most_patients) * standing);
  if (row.positive !== undefined && row.of !== undefined) {
    return [{ share: row.positive / row.of, patients: counting(row.of) }];
  }
  const word = row.frequency ? knowledge.frequencyWords[row.frequency] : undefined;
  const range = row.range ?? word;
  if (!range) {
    return row.percent === undefined
      ? []
      : [{ share: row.percent / 100, patients: counting(rows.percent_patients) }];
  }
  const [low, high] = [range[0] / 100, range[1] / 100];
  const middle = row.percent === undefined ? (low + high) / 2 : row.percent / 100;
  // Two points either side by sd / sqrt(2) have that sd as their sample standard deviation.
  const sd = Math.min((high - low) / 4 / Math.SQRT2, middle, 1 - middle);
  const review = row.range !== undefined;
  const patients = Math.max(1, counting(review ? rows.review_patients : rows.word_patients) / 2);
  const studies = (review ? REVIEW_STUDIES : 1) / 2;
  return [middle - sd, middle + sd].map((share) => ({ share, patients, studies }));
}
