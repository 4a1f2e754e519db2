/** Every kind of slip that only arithmetic can find, with what it means and how to cure it. */
import type { ProblemKind } from "../../base/problem.js";

export const PLAUSIBLE_PROBLEMS = {
  "extent-over-patches": {
    meaning: "Far more hair loss is recorded for an area than its measured patches can cover.",
    cure: "Check the percentage (40 for 4?) and the patch in mm, or add the patches left out.",
  },
  "extent-under-patches": {
    meaning: "The measured patches cover far more of an area than the hair loss recorded for it.",
    cure: "Check the percentage (4 for 40?) and the patch in mm.",
  },
  "extent-zero-with-patch": {
    meaning: "An area is recorded as having no hair loss, yet a patch in it was measured.",
    cure: "Give the loss of that area, or correct the region of the patch.",
  },
  "patch-over-area": {
    meaning: "A patch is larger than its whole area of scalp.",
    cure: "Check the length and width; they are in mm.",
  },
  "patch-tiny": {
    meaning: "A patch is only a few mm across.",
    cure: "Check whether it was measured in cm.",
  },
  "loss-with-full-density": {
    meaning: "An area is recorded as nearly bare, yet many hairs per cm² were counted there.",
    cure: "Check the percentage, the hair counts and the field diameter.",
  },
  "bare-field-without-loss": {
    meaning: "An area is recorded as having no hair loss, yet almost no hairs were counted there.",
    cure: "Check the percentage, the hair counts and the field diameter.",
  },
  "units-against-hairs": {
    meaning: "The follicular units of a field do not add up to its hairs.",
    cure: "Count the field again, or correct the units.",
  },
  "density-too-high": {
    meaning: "More hairs per cm² than any scalp is known to carry.",
    cure: "Check the field diameter, which is in mm, and the hair counts.",
  },
  "density-too-low": {
    meaning: "A field with many hairs yields almost none per cm².",
    cure: "Check the field diameter; 11 mm may have been written as 110.",
  },
  "hairs-per-unit-high": {
    meaning: "Follicular units carry more hairs each than they do.",
    cure: "Check the units: the key is the number of hairs, the value how many such units.",
  },
  "diameter-in-mm": {
    meaning: "Shaft diameters are far too small for µm.",
    cure: "Diameters are in µm: 0.061 mm is 61.",
  },
  "diameter-too-thick": {
    meaning: "A shaft is thicker than human hair.",
    cure: "Check the diameter, which is in µm.",
  },
  "diameters-all-equal": {
    meaning: "Many shafts have exactly one diameter.",
    cure: "Give each shaft as measured.",
  },
  "fields-identical": {
    meaning: "Two fields of one site have the same counts throughout.",
    cure: "Check that one was not entered twice.",
  },
  "thin-shares-disagree": {
    meaning: "The share of thin hairs in the counted fields and among the measured shafts is far apart.",
    cure: "Check both; thin is under 0.03 mm (30 µm).",
  },
  "absent-but-counted": {
    meaning: "A finding is recorded as not seen, yet the fields count it.",
    cure: "Correct the finding or the counts.",
  },
  "seen-but-none-counted": {
    meaning: "A finding is recorded as many or throughout, yet the fields count none.",
    cure: "Correct the finding or the counts.",
  },
  "counts-disagree": {
    meaning: "One finding is counted twice at a site, with very different results.",
    cure: "Keep the right count.",
  },
  "field-against-magnification": {
    meaning: "The field diameter and the magnification do not go together.",
    cure: "Check both; the image would be smaller than a stamp or larger than a wall.",
  },
  "pull-against-shedding": {
    meaning: "A positive pull test, yet shedding is recorded as none.",
    cure: "Check both.",
  },
  "index-against-symptoms": {
    meaning: "A symptom of the activity index and the same symptom rated 0 to 10 contradict each other.",
    cure: "Check both.",
  },
  "index-against-pull": {
    meaning: "The pull test of a score and the recorded pull test contradict each other.",
    cure: "Check both.",
  },
  "index-against-course": {
    meaning: "Spreading in the activity index and the recorded course contradict each other.",
    cure: "Check both.",
  },
  "pluck-of-few": {
    meaning: "Fewer or more hairs were plucked than the test asks for.",
    cure: "Check the four counts.",
  },
  "short-over-total": {
    meaning: "More short hairs than hairs were shed.",
    cure: "Check both counts.",
  },
  "day-stands-out": {
    meaning: "One day's count is ten times another's.",
    cure: "Check the counts of the days.",
  },
} as const satisfies Record<string, ProblemKind>;

export type PlausibleId = keyof typeof PLAUSIBLE_PROBLEMS;
