/** Slips that stop YAML itself: each is seen in the line, said plainly, and mended so that the rest can be checked too. */
import type { LineHint, LineSlip } from "./slip.js";

export const tabIndent: LineSlip = {
  problem: "tab-indent",
  examples: [{ good: "  onset: sudden", bad: "\tonset: sudden" }],
  notice(line) {
    const indent = /^[ ]*\t[ \t]*/u.exec(line)?.[0];
    if (indent === undefined) return undefined;
    return {
      problem: "tab-indent",
      message: "a tab is used to indent",
      expected: "spaces, two for each step",
      column: 1 + indent.indexOf("\t"),
      length: 1,
      repaired: indent.replaceAll("\t", "  ") + line.slice(indent.length),
    };
  },
};

export const missingSpace: LineSlip = {
  problem: "missing-space",
  examples: [{ good: "  onset: sudden", bad: "  onset:sudden" }],
  notice(line) {
    const match = /^(\s*(?:- )?)([\p{L}][\p{L}\d_ -]*):(?![\s/])(\S.*)$/u.exec(line);
    if (!match) return undefined;
    const [before, key, value] = [match[1] ?? "", match[2] ?? "", match[3] ?? ""];
    return {
      problem: "missing-space",
      message: `no space after the colon of "${key}"`,
      expected: "key, colon, space, value",
      suggestion: `${key}: ${value}`,
      column: before.length + key.length + 1,
      length: 1,
      repaired: `${before}${key}: ${value}`,
    };
  },
};

export const equalsSign: LineSlip = {
  problem: "equals-sign",
  examples: [{ good: "  onset: sudden", bad: "  onset = sudden" }],
  notice(line) {
    const match = /^(\s*(?:- )?)([\p{L}][\p{L}\d_ -]*?)\s*=\s*(\S.*)$/u.exec(line);
    if (!match || /^[^=]*:\s/u.test(line)) return undefined;
    const [before, key, value] = [match[1] ?? "", match[2] ?? "", match[3] ?? ""];
    return {
      problem: "equals-sign",
      message: `an equals sign after "${key}"`,
      expected: "key, colon, space, value",
      suggestion: `${key}: ${value}`,
      column: line.indexOf("=") + 1,
      length: 1,
      repaired: `${before}${key}: ${value}`,
    };
  },
};

const KEY_VALUE = /^(\s*(?:- )?[\p{L}][\p{L}\d_ -]*:\s+)(.*?)(\s*)$/u;

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

export const colonInValue: LineSlip = {
  problem: "colon-in-value",
  examples: [{ good: "  reason: New patch of hair loss.", bad: "  reason: New patch: hair loss." }],
  notice(line) {
    const match = KEY_VALUE.exec(line);
    const [before, value] = [match?.[1] ?? "", match?.[2] ?? ""];
    if (!/:(?:\s|$)/u.test(value) || /^["'[{|>&*]/u.test(value)) return undefined;
    const mended = value.includes("'") ? `"${value.replaceAll(/["\\]/gu, "\\$&")}"` : `'${value}'`;
    return {
      problem: "colon-in-value",
      message: "a second colon in the line begins a new key",
      expected: "quotes around a value that holds a colon",
      suggestion: mended,
      column: before.length + value.search(/:(?:\s|$)/u) + 1,
      length: 1,
      repaired: `${before}${mended}`,
    };
  },
};

/** In the order in which they are tried. */
export const lineSlips: readonly LineSlip[] = [
  tabIndent,
  missingQuote,
  equalsSign,
  missingSpace,
  colonInValue,
];

/** What is probably wrong with a line that YAML could not take. */
export function lineHint(line: string): LineHint | undefined {
  for (const slip of lineSlips) {
    const hint = slip.notice(line);
    if (hint) return hint;
  }
  return undefined;
}
