/** `yellow dots: yes`, `present`, `absent`, `++`: how much, or looked for and not seen, has its own words. */
import type { ValueSlip } from "./slip.js";

const MEANT: Readonly<Record<string, string>> = {
  yes: "seen",
  y: "seen",
  true: "seen",
  present: "seen",
  positive: "seen",
  pos: "seen",
  found: "seen",
  observed: "seen",
  no: "none",
  n: "none",
  false: "none",
  absent: "none",
  negative: "none",
  neg: "none",
  nil: "none",
  "not seen": "none",
  "not present": "none",
  "not found": "none",
  "-": "none",
  "+": "few",
  "++": "several",
  "+++": "many",
  one: "single",
  a: "single",
  some: "few or several",
  rare: "few",
  scattered: "few",
  occasional: "few",
  mild: "few",
  multiple: "several",
  moderate: "several",
  numerous: "many",
  lots: "many",
  marked: "many",
  severe: "many",
  diffuse: "throughout",
  everywhere: "throughout",
};

export const amountAsYes: ValueSlip = {
  problem: "amount-as-yes",
  examples: [
    { good: "      yellow dots: few", bad: "      yellow dots: yes" },
    { good: "      yellow dots: few", bad: "      yellow dots: absent" },
    { good: "      yellow dots: few", bad: "      yellow dots: ++" },
  ],
  notice({ want, written }) {
    if (want.kind !== "amount" || written === undefined) return undefined;
    const text = written.trim().toLowerCase();
    const meant = Object.hasOwn(MEANT, text) ? MEANT[text] : undefined;
    if (meant !== undefined) {
      return {
        problem: "amount-as-yes",
        message: `"${written.trim()}" does not say how much was seen`,
        expected: "an amount, seen for present without a grade, or none for looked for and not seen",
        suggestion: meant,
      };
    }
    if (/^(?:\?|n\/?a|not (?:assessed|done|examined|looked for)|unknown|-{2,})$/u.test(text)) {
      return {
        problem: "amount-as-yes",
        message: `"${written.trim()}" is no amount`,
        expected: "no line: what was not assessed is left out of the file",
      };
    }
    return undefined;
  },
};
