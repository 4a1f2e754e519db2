/** `phototype: 3`: Roman figures keep it apart from counts. */
import type { ValueSlip } from "./slip.js";

const ROMAN = ["I", "II", "III", "IV", "V", "VI"];

export const phototypeFigure: ValueSlip = {
  problem: "phototype-figure",
  examples: [{ good: "  phototype: III", bad: "  phototype: 3" }],
  notice({ want, written, key }) {
    if (want.kind !== "word" || key !== "phototype" || written === undefined) return undefined;
    const figure = /^\s*(?:type|fitzpatrick|phototype|fst)?\s*(\d|i{1,3}|iv|vi?)\s*$/iu.exec(written)?.[1];
    if (figure === undefined) return undefined;
    const roman = /\d/u.test(figure) ? ROMAN[Number(figure) - 1] : figure.toUpperCase();
    return {
      problem: "phototype-figure",
      message: `"${written.trim()}" is not a Roman figure from I to VI`,
      expected: ROMAN.join(", "),
      suggestion: roman,
    };
  },
};
