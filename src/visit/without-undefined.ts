/** A deep copy without undefined values, so that equal things are equal as JSON. */
export function withoutUndefined<T>(value: T): Defined<T> {
  if (Array.isArray(value)) return value.map((entry: unknown) => withoutUndefined(entry)) as Defined<T>;
  if (value === null || typeof value !== "object") return value as Defined<T>;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, inner]) => inner !== undefined)
      .map(([key, inner]) => [key, withoutUndefined(inner)]),
  ) as Defined<T>;
}

type MayMiss<T> = { [K in keyof T]: undefined extends T[K] ? K : never }[keyof T];

/** The same type, its keys left out where they may have been undefined. */
export type Defined<T> = T extends string
  ? T
  : T extends readonly (infer E)[]
    ? readonly Defined<E>[]
    : T extends object
      ? { readonly [K in Exclude<keyof T, MayMiss<T>>]: Defined<T[K]> } & {
          readonly [K in MayMiss<T>]?: Defined<Exclude<T[K], undefined>>;
        }
      : T;
