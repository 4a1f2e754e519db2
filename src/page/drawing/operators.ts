/** Numbers and colours as a page's content stream writes them. */

/** At most three decimals: a thousandth of a point is finer than any printer. */
export function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}

const known = new Map([["black", "0 0 0"]]);

/** Three operands from 0 to 1 for `#rrggbb`, `#rgb` or black; undefined for any other colour. */
export function colorOperands(color: string): string | undefined {
  const before = known.get(color);
  if (before !== undefined) return before;
  const digits = /^#([\da-f]{6}|[\da-f]{3})$/i.exec(color)?.[1];
  if (digits === undefined) return undefined;
  const pairs = digits.length === 3 ? [...digits].map((d) => d + d) : (digits.match(/../g) ?? []);
  const made = pairs.map((pair) => rounded(Number.parseInt(pair, 16) / 255)).join(" ");
  if (known.size > 256) known.clear();
  known.set(color, made);
  return made;
}
