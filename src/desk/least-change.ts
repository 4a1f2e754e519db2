/** Keeps every line of a file that an edit did not touch byte for byte, though the YAML writer has habits of its own. */

/**
 * `before` is the file, `plain` the same file as the writer prints it, `after` the edited file as the writer prints it.
 * Lines in which `after` differs from `plain` are taken over; all others stay as in `before`. Undefined when the lines of
 * `before` and `plain` do not stand opposite each other.
 */
export function leastChange(before: string, plain: string, after: string): string | undefined {
  const ending = before.includes("\r\n") ? "\r\n" : "\n";
  const kept = before.split(/\r?\n/u);
  const old = plain.split("\n");
  const edited = after.split("\n");
  // A file may lack its last line break.
  const bare = kept.at(-1) !== "" && old.at(-1) === "";
  if (bare) {
    old.pop();
    edited.pop();
  }
  if (kept.length !== old.length) return undefined;
  let head = 0;
  while (head < old.length && head < edited.length && old[head] === edited[head]) head++;
  let tail = 0;
  while (
    tail < old.length - head &&
    tail < edited.length - head &&
    old[old.length - 1 - tail] === edited[edited.length - 1 - tail]
  )
    tail++;
  return [
    ...kept.slice(0, head),
    ...edited.slice(head, edited.length - tail),
    ...kept.slice(kept.length - tail),
  ].join(ending);
}
