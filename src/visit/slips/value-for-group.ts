/** `status:signed` alone below a key, a single entry without its dash, a word where keys belong. */
import { expectedInWords, foundInWords } from "../expectation.js";
import type { ValueSlip } from "./slip.js";

export const valueForGroup: ValueSlip = {
  problem: "wrong-shape",
  examples: [
    { good: "follow_up: { weeks: 12 }", bad: "follow_up: 12" },
    { good: "plan:\n  - { who: patient, action: Rest. }", bad: "plan: { who: patient, action: Rest. }" },
    { good: "follow_up:\n  weeks: 12", bad: "follow_up:\n  weeks:12" },
  ],
  notice({ want, written, raw, key, path }) {
    if (want.kind !== "map" && want.kind !== "list") return undefined;
    // Of a list too long, the length is what is wrong.
    if (want.kind === "list" && Array.isArray(raw)) return undefined;
    const glued = /^\s*([\p{L}_ ]+):(\S.*)$/u.exec(written ?? "");
    if (glued) {
      return {
        problem: "missing-space",
        message: `no space after the colon in "${written}"`,
        expected: "key, colon, space, value",
        suggestion: `${glued[1]}: ${glued[2]}`,
      };
    }
    const equals = /^\s*([\p{L}_ ]+?)\s*=\s*(\S.*)$/u.exec(written ?? "");
    if (equals) {
      return {
        problem: "equals-sign",
        message: `an equals sign in "${written}"`,
        expected: "key, colon, space, value",
        suggestion: `${equals[1]}: ${equals[2]}`,
      };
    }
    if (want.kind === "list" && raw !== null && typeof raw === "object") {
      return {
        problem: "wrong-shape",
        message: `${key} is a list, and its entry has no dash`,
        expected: "a dash and a space before the first key of each entry",
      };
    }
    if (want.kind === "map" && Array.isArray(raw) && path.length > 0) {
      return {
        problem: "wrong-shape",
        message: `${key} holds a list`,
        expected: `${expectedInWords(want)}: the same lines without dashes`,
      };
    }
    const last = path.at(-1);
    const name =
      last === undefined ? "the file" : typeof last === "number" ? `entry ${last + 1} of ${key}` : key;
    return {
      problem: "wrong-shape",
      message: `${foundInWords(raw)} where ${name} needs ${want.kind === "list" ? "a list" : "keys"}`,
      expected: expectedInWords(want),
    };
  },
};
