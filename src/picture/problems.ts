/** Every message about a marks file: what it means and what cures it. */
import type { ProblemKind, Severity } from "../base/problem.js";

export const MARKS_PROBLEMS = {
  "marks-unreadable": {
    severity: "error",
    meaning: "A marks file cannot be read as text.",
    cure: "Take its last good copy, or remove it and mark the photo again.",
  },
  "marks-shape": {
    severity: "error",
    meaning: "A value of a marks file is not what belongs there.",
    cure: "Write what the message expects.",
  },
  "marks-key": {
    severity: "error",
    meaning: "A marks file has a key that nothing reads, or lacks one that is needed.",
    cure: "Use the key that the message names.",
  },
  "marks-word": {
    severity: "error",
    meaning: "A word in a marks file is no finding of the catalogue.",
    cure: "Use a word of whorl catalogue.",
  },
  "marks-other-photo": {
    severity: "error",
    meaning: "The marks were set on another picture: the photo's bytes do not fit their hash.",
    cure: "Put the marked photo back, or mark this one.",
  },
  "marks-other-size": {
    severity: "error",
    meaning: "The marks say another size of the picture than the photo has.",
    cure: "Mark the photo again.",
  },
  "mark-outside": {
    severity: "error",
    meaning: "A mark, a scale line or the area lies outside the picture.",
    cure: "Correct the point; it is in pixels of the upright picture.",
  },
  "mark-twice": {
    severity: "warning",
    meaning: "Two marks of one kind stand on one point, so something may be counted twice.",
    cure: "Remove one of them.",
  },
  "marks-no-scale": {
    severity: "error",
    meaning: "Marks measure something and their picture has no scale.",
    cure: "Give two points and what lies between them, or the field's diameter.",
  },
  "scale-lines-differ": {
    severity: "warning",
    meaning: "Repeated scale lines of one picture disagree by more than a tenth.",
    cure: "Draw them again; one of them may have a wrong length.",
  },
  "scale-implausible": {
    severity: "warning",
    meaning: "By its scale the picture is smaller or larger than any photo of a scalp.",
    cure: "Look whether millimetres were meant.",
  },
  "width-implausible": {
    severity: "warning",
    meaning: "A line across a shaft is wider than any hair, or thinner.",
    cure: "Draw it from edge to edge of one shaft, and look at the scale.",
  },
  "count-against-marks": {
    severity: "error",
    meaning: "A count of the visit is another than the marks of its photo give.",
    cure: "Correct the number or the marks, or leave the number out.",
  },
  "diameter-against-marks": {
    severity: "error",
    meaning: "The diameters of the visit are others than the marks of its photos measure.",
    cure: "Correct the diameters or the lines, or leave the diameters out.",
  },
  "field-against-marks": {
    severity: "error",
    meaning: "The field of view has one diameter in the visit and another in the marks of a photo.",
    cure: "Correct the one that is wrong.",
  },
  "marks-without-field": {
    severity: "error",
    meaning: "Marks count a field, and their photo does not say which of the typed fields it shows.",
    cure: "Write field: and its number beside the photo, or leave the typed fields out.",
  },
} as const satisfies Record<string, ProblemKind & { readonly severity: Severity }>;

export type MarksProblemId = keyof typeof MARKS_PROBLEMS;

/** What lies beside the marks. */
export interface PhotoSeen {
  /** SHA-256 of the photo's bytes. */
  readonly sha256: string;
}

/** What a problem says beside its place. */
export interface Said {
  readonly message: string;
  readonly found?: string;
  readonly expected?: string;
  readonly suggestion?: string;
}
