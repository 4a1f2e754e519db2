/** A tab at the start of a line: YAML indents by spaces only. */
import type { LineSlip } from "./slip.js";

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
