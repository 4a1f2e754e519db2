/** Messages about values that are well written and do not fit each other. */
import type { VisitProblemKind } from "./problems.js";

export const CONTRADICTION_PROBLEMS = {
  "format-assumed": {
    severity: "note",
    meaning: "The version of the format is left out; the first is assumed.",
    example: "A file without format.",
    cure: "Write format: 1 at the top.",
  },
  "unknown-person": {
    severity: "error",
    meaning: "The key under seen_by is no person of the clinic file.",
    example: "seen_by: a-thorsby",
    cure: "Use a key of people in the clinic file.",
  },
  "may-not-sign": {
    severity: "error",
    meaning: "A signed visit names someone who does not sign letters.",
    example: "status: signed, seen_by: the clinic's secretary",
    cure: "Name the person who signs, or keep the visit a draft.",
  },
  "no-registration": {
    severity: "warning",
    meaning: "A person who signs has no registration number for the signature block.",
    example: "may_sign: true without registration",
    cure: "Write the number.",
  },
  "nobody-signs": {
    severity: "warning",
    meaning: "No person of the clinic may sign, so every visit stays a draft.",
    example: "people without may_sign",
    cure: "Write may_sign: true for those who sign.",
  },
  "no-emergency": {
    severity: "warning",
    meaning: "The clinic file has no line for urgent help.",
    example: "A clinic file without emergency.",
    cure: "Write label and number of at least one line.",
  },
  "status-assumed": {
    severity: "warning",
    meaning: "It is not said whether the visit is a draft or signed; a draft is assumed.",
    example: "A visit without status.",
    cure: "Write status: draft or status: signed.",
  },
  "reason-missing": {
    severity: "warning",
    meaning: "The reason for the visit is left out. A signed letter needs it.",
    example: "A visit without reason.",
    cure: "Write it in a sentence.",
  },
  "sex-missing": {
    severity: "warning",
    meaning: "Sex is left out; the letter will say not stated.",
    example: "A patient without sex.",
    cure: "Write it, or not stated.",
  },
} as const satisfies Record<string, VisitProblemKind>;
