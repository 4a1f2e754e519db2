/** `“few”`: curly quotes do not quote, so they are part of the word. */
import type { ValueSlip } from "./slip.js";

const QUOTED = /^[“”„‟«‹‘’‚]\s*(.*?)\s*[“”»›‘’]$/u;

/** The text between curly quotes; undefined for text without them. */
export function insideCurlyQuotes(text: string): string | undefined {
  return QUOTED.exec(text.trim())?.[1];
}

export const curlyQuoted: ValueSlip = {
  problem: "curly-quoted-word",
  examples: [{ good: "      yellow dots: few", bad: "      yellow dots: “few”" }],
  notice({ want, written }) {
    if (want.kind === "text" || written === undefined) return undefined;
    const inside = insideCurlyQuotes(written);
    if (inside === undefined) return undefined;
    return {
      problem: "curly-quoted-word",
      message: `curly quotes around "${inside}" are read as part of the value`,
      expected: "no quotes, or straight ones",
      suggestion: inside,
    };
  },
};
