/** Slips that stop YAML itself: each is seen in the line, said plainly, and mended so that the rest can be checked too. */
import { colonInValue } from "./colon-in-value.js";
import { equalsSign } from "./equals-sign.js";
import { missingQuote } from "./missing-quote.js";
import { missingSpace } from "./missing-space.js";
import type { LineHint, LineSlip } from "./slip.js";
import { tabIndent } from "./tab-indent.js";

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
