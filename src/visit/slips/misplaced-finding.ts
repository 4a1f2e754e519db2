/** `yellow dots: few` beside `site:` instead of below `findings:`. */
import type { KeySlip } from "./slip.js";

export const misplacedFinding: KeySlip = {
  problem: "misplaced-finding",
  examples: [{ good: "    notes: Calm skin.", bad: "    yellow dots: few" }],
  notice({ key, words }) {
    const finding = words?.findings.find(key);
    if (finding === undefined) return undefined;
    return {
      problem: "misplaced-finding",
      message: `the finding "${key}" stands outside findings`,
      expected: "findings of a site, indented below its key findings",
      suggestion: `findings: { ${words?.findings.terms.get(finding)}: ... }`,
    };
  },
};
