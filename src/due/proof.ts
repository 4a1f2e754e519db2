/** What later became known of a first visit: a test that names a disorder, or the course as the clinician saw it later. */
import type { DisorderId } from "../base/ids.js";
import type { ReadVisit } from "./visits.js";

export interface Proof {
  /** Disorders that it names: more than one where a test cannot part them. */
  readonly disorders: readonly DisorderId[];
  readonly by: "test" | "course";
}

/** First visit of a person, with what came to be known after it. */
export interface Followed {
  readonly visit: ReadVisit;
  readonly proof: Proof | null;
}

/**
 * The first visit of a chain and the first test of a later day that names a disorder; failing that, the last later visit with a
 * definite impression. A first visit that holds such a test itself proves nothing of impression or engine: both had seen it.
 */
export function followed([first, ...rest]: readonly ReadVisit[]): Followed | null {
  if (!first || first.extract.weighed.proven.length > 0) return null;
  const later = rest.filter((v) => v.extract.identity.date > first.extract.identity.date);
  const tested = later.find((v) => v.extract.weighed.proven.length > 0);
  if (tested) return { visit: first, proof: { disorders: tested.extract.weighed.proven, by: "test" } };
  const course = later.findLast((v) => definite(v).length > 0);
  return { visit: first, proof: course ? { disorders: definite(course), by: "course" } : null };
}

function definite({ extract }: ReadVisit): string[] {
  return extract.weighed.impression.flatMap((i) => (i.certainty === "definite" ? [i.disorder] : []));
}

/** Impressions that were not excluded. */
export function held({ extract }: ReadVisit): string[] {
  return extract.weighed.impression.flatMap((i) => (i.certainty === "excluded" ? [] : [i.disorder]));
}

/** What the engine put first, where it put anything forward. */
export function led({ extract }: ReadVisit): string | null {
  const { leading } = extract.weighed;
  return leading && leading.band !== "unlikely" && leading.band !== "not assessable" ? leading.id : null;
}
