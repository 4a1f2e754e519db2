import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isOneSlipApart } from "../../src/base/look-alike.js";
import { Slips } from "../../src/clinic-folder/slips.js";

describe("words one slip apart", () => {
  it("are those that holding each against each would find", () => {
    const word = fc.string({ unit: fc.constantFrom("a", "b", "1", "-"), maxLength: 6 });
    fc.assert(
      fc.property(fc.array(word, { maxLength: 40 }), (words) => {
        const slips = new Slips(words, (one) => one);
        for (const one of words)
          expect(slips.near(one).toSorted()).toEqual(words.filter((o) => isOneSlipApart(one, o)).toSorted());
      }),
      { numRuns: 300 },
    );
  });
});
