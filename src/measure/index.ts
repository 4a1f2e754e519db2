/** The room's front door: measuring one visit, comparing several, and what cannot be true. */

export { compareVisits } from "./change/compare.js";
export { fieldsToSeeChange } from "./change/measures.js";
export type * from "./change/types.js";
export { ageAt } from "./normals.js";
export { plausibility } from "./plausible.js";
export { measure } from "./run.js";
export type {
  Counted,
  CriterionResult,
  Measured,
  Measures,
  NormalRange,
  NotMeasured,
  RuleResult,
} from "./types.js";
