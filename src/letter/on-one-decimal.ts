/** Figures of one column whose decimal signs stand below one another although more than the figure stands in each cell. */

/** As wide as a digit, and as a sign, in the typefaces of letters. */
const FIGURE_SPACE = "\u2007";

/** The cells, each with figure spaces before it for the digits that the longest whole number has more. */
export function onOneDecimal(cells: readonly string[]): string[] {
  const whole = cells.map((cell) => /^[+\u2212-]?\d+/u.exec(cell)?.[0].length ?? 0);
  const longest = Math.max(0, ...whole);
  return cells.map((cell, i) => {
    const digits = whole[i] ?? 0;
    return digits === 0 ? cell : FIGURE_SPACE.repeat(longest - digits) + cell;
  });
}
