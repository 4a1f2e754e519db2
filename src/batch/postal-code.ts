/** Address lines -> the postal code to sort by. */

/** Letters and figures in two groups (TS1 1AA), figures with or without a hyphen (75008, 1234-567), figures and letters (1017 AB). */
const CODE =
  /\b(?:[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}|\d{5}-\d{4}|\d{4}-\d{3}|\d{2}-\d{3}|\d{3} \d{2}|\d{4} ?[A-Z]{2}|\d{4,6})\b/u;

/** The code in the last line that has one, in capitals with single spaces; empty when none can be made out. */
export function postalCode(address: readonly string[]): string {
  for (const line of [...address].reverse()) {
    const found = CODE.exec(line.toUpperCase().replace(/\s+/gu, " "));
    if (found) return found[0];
  }
  return "";
}
