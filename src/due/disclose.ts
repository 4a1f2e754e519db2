/**
 * Small numbers held back, so that a table can leave the clinic. A count from 1 to 4 speaks of so few people that who knows one of
 * them learns about them; nought speaks of nobody and stays. A count that could be worked out from a total and its neighbours is
 * held back too (complementary suppression, as statistical offices do; common practice, no source).
 */

/** The least number of people a published count may speak of. */
export const LEAST = 5;

const isSmall = (n: number): boolean => n > 0 && n < LEAST;

/** Every count that a row shows or from which its figures let one work it out: how many, how many of them yes, and no. */
export interface Row {
  readonly id: string;
  readonly parts: readonly number[];
}

/** True where a row alone may be shown. */
export function mayShow({ parts }: Pick<Row, "parts">): boolean {
  return !parts.some(isSmall);
}

/**
 * Which rows of a table may be shown beside its total. Held back are rows with a small count, and then, the smallest first, as many
 * more as it takes until what is hidden has no small count in sum, and so is more than one row. Where that leaves nothing to hide behind,
 * the total is hidden as well.
 */
export function disclosed(rows: readonly Row[]): {
  readonly shown: ReadonlySet<string>;
  readonly total: boolean;
} {
  const hidden = rows.filter((row) => !mayShow(row));
  const left = rows
    .filter((row) => mayShow(row) && (row.parts[0] ?? 0) > 0)
    .toSorted((a, b) => (a.parts[0] ?? 0) - (b.parts[0] ?? 0) || (a.id < b.id ? -1 : 1));
  const sums = (of: readonly Row[]) =>
    (of[0]?.parts ?? []).map((_, i) => of.reduce((sum, row) => sum + (row.parts[i] ?? 0), 0));
  while (left.length > 0 && sums(hidden).some(isSmall)) {
    const next = left.shift();
    if (next) hidden.push(next);
  }
  const ids = new Set(hidden.map(({ id }) => id));
  const canHide = !sums(hidden).some(isSmall);
  return {
    shown: new Set(rows.flatMap(({ id }) => (ids.has(id) ? [] : [id]))),
    total: canHide && !sums(rows).some(isSmall),
  };
}
