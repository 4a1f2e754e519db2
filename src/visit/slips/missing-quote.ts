/** A quote that is never closed, or one inside quotes of its own kind. */
import { KEY_VALUE, type LineSlip } from "./slip.js";

export const missingQuote: LineSlip = {
  problem: "missing-quote",
  examples: [
    { good: "  onset: sudden", bad: '  onset: "sudden' },
    { good: '    notes: "It is calm."', bad: "    notes: 'It's calm.'" },
  ],
  notice(line) {
    const match = KEY_VALUE.exec(line);
    const [before, value] = [match?.[1] ?? "", match?.[2] ?? ""];
    const quote = value[0];
    if (quote !== '"' && quote !== "'") return undefined;
    const body = value.slice(1);
    const closed = body.endsWith(quote) && body.length > 0;
    const inner = closed ? body.slice(0, -1) : body;
    const doubled = quote === "'" ? inner.replaceAll("''", "") : inner.replaceAll(/\\./gu, "");
    if (closed && !doubled.includes(quote)) return undefined;
    // A value may run over several lines; only a quote with none after it on the line, or one inside, is a slip.
    const mended = `'${inner.replaceAll("''", "'").replaceAll("'", "''")}'`;
    return {
      problem: "missing-quote",
      message: closed
        ? `a quote (${quote}) inside quotes of its own kind`
        : `a quote (${quote}) is opened and never closed`,
      expected: "text without quotes, or quotes in pairs",
      suggestion: mended,
      column: before.length + 1,
      length: value.length,
      repaired: `${before}${mended}`,
    };
  },
};
