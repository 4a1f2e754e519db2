/** Why documents leave a key of the visit file out, in sentences that several keys share. */
import type { LeftOut } from "../key.js";

/** Left out of both documents. */
export const neither = (why: string): LeftOut => ({ letter: why, handout: why });

export const TRADE: LeftOut = {
  handout: "the handout tells what was seen and what happens next, in plain words",
};
export const OWN_STORY: LeftOut = { handout: "the patient told it" };
export const MEASURED = neither("the letter prints the measures worked from it, with how many were counted");
export const ONE_FIELD = neither("a count of one field; the reasoning sheet prints what is worked from it");
/** Printed everywhere; said where the keys beside it are not. */
export const BOTH: LeftOut = {};
