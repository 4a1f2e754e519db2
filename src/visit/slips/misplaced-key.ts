/** `itch: 2` below history instead of below symptoms: a good key in the wrong place. */
import { foldWord, nearestWords } from "../../base/nearest.js";
import type { KeySlip } from "./slip.js";

export const misplacedKey: KeySlip = {
  problem: "unknown-key",
  examples: [
    { good: "  onset: sudden", bad: "  itch: 2" },
    { good: "  onset: sudden", bad: "  durationWeeks: 5" },
  ],
  notice({ key, accepted, homesOf }) {
    const message = `"${key}" is not a key of this place`;
    const snake = key.trim().replace(/([a-z])([A-Z])/gu, "$1_$2");
    const same = accepted.find((word) => foldWord(word) === foldWord(snake));
    const near = same ? [same] : nearestWords(snake, accepted).slice(0, 3);
    if (near.length > 0) {
      return {
        problem: "unknown-key",
        message,
        expected: "a key of this place",
        suggestion: near.join(" or "),
      };
    }
    const homes = homesOf(snake).map((home) => (home === "" ? "at the top of the file" : `below ${home}`));
    if (homes.length === 0) return undefined;
    return {
      problem: "unknown-key",
      message,
      expected: "a key of this place",
      suggestion: homes.length === 1 ? `${snake} ${homes[0]}` : undefined,
    };
  },
};
