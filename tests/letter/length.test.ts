/** How long the examples' letters are: a busy doctor reads few words. */
import { describe, expect, it } from "vitest";
import { letterWords } from "../../src/batch/proof/letter-words.js";
import { compose, examples } from "./compose.js";

/** At the median of the examples, all words and figures from letterhead to signature counted. */
const MOST_WORDS = 450;

describe("the letters of the examples", () => {
  it(`hold at most ${MOST_WORDS} words at the median`, () => {
    const lengths = examples
      .map((example) => [...letterWords(compose("referral-letter", example)).counts.values()])
      .map((counts) => counts.reduce((sum, n) => sum + n, 0))
      .sort((a, b) => a - b);
    const middle = (lengths.length - 1) / 2;
    const median = ((lengths[Math.floor(middle)] ?? 0) + (lengths[Math.ceil(middle)] ?? 0)) / 2;
    expect(median, lengths.join(" ")).toBeLessThanOrEqual(MOST_WORDS);
    expect(lengths[0]).toBeGreaterThan(200);
  });
});
