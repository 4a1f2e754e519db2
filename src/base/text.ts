/** Text put into other text: marks escaped for XML and HTML, gaps of a phrase filled; numbers as they are spoken; and a capital put or taken. */

/** Text that stands in XML as it is, such as path data: looking once is cheaper than replacing five times. */
const PLAIN = /^[ !#-%'-;=?-~]*$/;

/** Text made safe inside XML and HTML: marks escaped, characters XML forbids left out. */
export function escapeXml(text: string): string {
  if (PLAIN.test(text)) return text;
  return text
    .replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, "")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}

/** Fills `{name}` gaps; an unknown gap stays as it is, so that a test can find it. */
export function fill(text: string, values: Readonly<Record<string, string | number>>): string {
  return text.replace(/\{(\w+)\}/gu, (whole, key: string) =>
    Object.hasOwn(values, key) ? String(values[key]) : whole,
  );
}

/** Numbers written in letters, from zero on; a word's place is its number. */
export const NUMBER_WORDS: readonly string[] =
  "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty".split(
    " ",
  );

export function withCapital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

export function withoutCapital(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}
