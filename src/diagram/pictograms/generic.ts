/** One plain drawing for each group of findings, for a finding that has none of its own. */
import { bent, blob, dots, line, type Sign } from "./ink.js";

/** The groups of the finding files. */
export type SignGroup = "hair shaft" | "follicular opening" | "skin surface" | "vessel";

export const GENERIC: Readonly<Record<SignGroup, Sign>> = {
  "hair shaft": {
    marks: () => [
      ["opening", dots([20, 38, 2.8])],
      ["hair", line([20, 38], [21, 26], [25, 14], [31, 4])],
    ],
  },
  "follicular opening": {
    marks: () => [
      ["opening", dots([24, 25, 8])],
      ["openingDark", dots([24, 25, 3])],
    ],
  },
  "skin surface": {
    ground: "deep",
    marks: () => [
      ["scale", blob([14, 18], [24, 13], [34, 18], [32, 30], [22, 34], [13, 28])],
      [
        "shadow",
        bent([
          [18, 24],
          [24, 21],
          [29, 25],
        ]),
      ],
    ],
  },
  vessel: { marks: () => [["vessel", line([8, 33], [16, 25], [24, 26], [32, 19], [40, 17]), 2]] },
};
