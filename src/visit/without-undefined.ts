/** A deep copy without undefined values, so that equal things are equal as JSON. */
export function withoutUndefined<T>(value: T): T {
  if (Array.isArray(value)) return value.map((entry: unknown) => withoutUndefined(entry)) as T;
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, withoutUndefined(inner)]),
  ) as T;
}
