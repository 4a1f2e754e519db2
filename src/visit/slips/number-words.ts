/** `five`, `about 5`, `3-5`, `<10`: words and ranges where one figure belongs. */
import { NUMBER_WORDS } from "../../base/text.js";
import type { ValueSlip } from "./slip.js";

export const numberWords: ValueSlip = {
  problem: "not-a-number",
  examples: [
    { good: "  duration_weeks: 5", bad: "  duration_weeks: five" },
    { good: "  duration_weeks: 5", bad: "  duration_weeks: 4-6" },
    { good: "  duration_weeks: 5", bad: "  duration_weeks: about 5" },
    { good: "  duration_weeks: 10", bad: "  duration_weeks: 1O" },
  ],
  notice({ want, written, key }) {
    if (want.kind !== "number" || written === undefined) return undefined;
    const text = written.trim().toLowerCase();
    const word = NUMBER_WORDS.indexOf(text);
    if (word !== -1) {
      return {
        problem: "not-a-number",
        message: `"${written}" is written in letters`,
        expected: "figures",
        suggestion: String(word),
      };
    }
    const range = /^(\d+(?:\.\d+)?)\s*(?:-|–|to)\s*(\d+(?:\.\d+)?)$/u.exec(text);
    if (range) {
      const middle = Number(((Number(range[1]) + Number(range[2])) / 2).toPrecision(3));
      return {
        problem: "not-a-number",
        message: `"${written}" is a range`,
        expected: "one number",
        suggestion: String(want.whole ? Math.round(middle) : middle),
      };
    }
    if (/^(?=.*[ol])[\dol]*\d[\dol]*$/u.test(text)) {
      return {
        problem: "not-a-number",
        message: `"${written}" has a letter among its figures`,
        expected: "figures",
        suggestion: text.replaceAll("o", "0").replaceAll("l", "1"),
      };
    }
    const about = /^(?:about|approx\.?|approximately|circa|ca\.?|~|≈|c\.)\s*(\d+(?:\.\d+)?)$/u.exec(text);
    if (about) {
      return {
        problem: "not-a-number",
        message: `"${written}" is more than a number`,
        expected: "the number alone",
        suggestion: about[1],
      };
    }
    if (/^[<>≤≥]/u.test(text) && key === "value") {
      return {
        problem: "not-a-number",
        message: `"${written}" is a limit, not a value`,
        expected: "a number, or the limit in words under result",
        suggestion: `result: "${written.trim()}"`,
      };
    }
    return undefined;
  },
};
