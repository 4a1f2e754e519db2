/**
 * The seal of a signed visit: a hash over what the visit says, whatever its file looks like. Key order, quotes, comments and
 * spellings of one term are no content; nor is the signature itself. Photos and the marks beside them are sealed by their bytes,
 * in signatures given since that is done; an earlier one covers their names.
 */
import type { Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { writeMap } from "./key.js";
import { KEYS } from "./keys.js";
import type { Visit } from "./visit.js";

/** Ids stay ids, so that a term may be renamed and every seal still holds. */
const AS_IDS = { finding: (id: string) => id, disorder: (id: string) => id, fact: (id: string) => id };
/** What the visit says, as plain data with the keys of the file; the act of signing is left out. */
export function contentOf(visit: Visit): Content {
  const { signed: _signed, ...rest } = visit;
  const written = writeMap(KEYS, { ...rest, visit: rest }, AS_IDS) as { readonly [key: string]: Content };
  const { status: _status, ...event } = written.visit as { readonly [key: string]: Content };
  return { ...written, visit: event };
}

export type Content =
  | string
  | number
  | boolean
  | null
  | readonly Content[]
  | { readonly [key: string]: Content };

const hashOf = (visit: Visit): string => sha256(JSON.stringify(inOrder(contentOf(visit))));

/** `1-` and a hash in hex; `2-` where a hash over photos follows. */
const SEAL = /^(?:1-(?<words>[0-9a-f]{64})|2-(?<all>[0-9a-f]{64})-(?<photos>[0-9a-f]{32}))$/u;

/** The seal of a signature given now; `photos` is the hash over the bytes of its photos (photosHash), where it has any. */
export function newSeal(visit: Visit, photos: string | undefined): string {
  return photos === undefined ? `1-${hashOf(visit)}` : `2-${hashOf(visit)}-${photos}`;
}

/** The seal that the visit carries, as long as it says the same; else the one that what it says would have. */
export function sealOf(visit: Visit): string {
  const hash = hashOf(visit);
  const seal = visit.signed?.seal ?? "";
  const { words, all } = SEAL.exec(seal)?.groups ?? {};
  return (words ?? all) === hash ? seal : `1-${hash}`;
}

/** The hash over its photos that the signature covers; undefined where it covers none. */
export function sealedPhotos(visit: Visit): string | undefined {
  return visit.status === "signed" ? SEAL.exec(visit.signed?.seal ?? "")?.groups?.photos : undefined;
}

/** True when the visit carries a seal of other content. */
export function isChangedSinceSigning(visit: Visit): boolean {
  const seal = visit.status === "signed" ? visit.signed?.seal : undefined;
  return seal !== undefined && seal !== sealOf(visit);
}

/**
 * The error of a signed visit that says or shows something else now; `before` is what was signed, where it is known, `photos` the
 * hash over its photos as they are.
 */
export function sealProblems(visit: Visit, before: Visit | undefined, photos: string | undefined): Problem[] {
  const sealed = sealedPhotos(visit);
  const areOthers = sealed !== undefined && sealed !== photos;
  if (!isChangedSinceSigning(visit) && !areOthers) return [];
  const changed = [
    ...(before ? changedKeys(before, visit) : []),
    ...(areOthers ? ["photos or their marks"] : []),
  ];
  const named = changed.length > MOST_NAMED ? [...changed.slice(0, MOST_NAMED), "more"] : changed;
  return [
    {
      severity: "error",
      id: "changed-since-signing",
      message: `the visit was changed after it was signed${named.length > 0 ? `: ${named.join(", ")}` : ""}`,
      path: "signed",
      expected: "the content that was signed, or a new signature with the reason (whorl sign, or the desk)",
    },
  ];
}

const MOST_NAMED = 8;

/** Where two visits say different things, as the file writes it: `impression[0].certainty`. */
export function changedKeys(before: Visit, after: Visit): string[] {
  return differing(contentOf(before), contentOf(after), "");
}

function differing(a: Content | undefined, b: Content | undefined, at: string): string[] {
  if (Array.isArray(a) && Array.isArray(b))
    return Array.from({ length: Math.max(a.length, b.length) }, (_, i) => i).flatMap((i) =>
      differing(a[i], b[i], `${at}[${i}]`),
    );
  if (isMap(a) && isMap(b))
    return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) =>
      differing(a[key], b[key], at === "" ? key : `${at}.${key}`),
    );
  return JSON.stringify(a) === JSON.stringify(b) ? [] : [at];
}

const isMap = (value: Content | undefined): value is { readonly [key: string]: Content } =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Keys in the order of the alphabet. */
function inOrder(value: Content): Content {
  if (Array.isArray(value)) return value.map(inOrder);
  if (!isMap(value)) return value;
  return Object.fromEntries(
    Object.keys(value)
      .sort()
      .map((key) => [key, inOrder(value[key] as Content)]),
  );
}
