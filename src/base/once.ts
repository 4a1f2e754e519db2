/** A value that is made when it is first asked for: a schema takes a millisecond or ten, and few commands need them all. */
export function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
