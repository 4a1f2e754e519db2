/** What can make it doubtful whose a visit is: the messages, each with its meaning and cure. */
import type { ProblemKind } from "../base/problem.js";
import { SAME_PATIENT_PROBLEMS } from "../visit/same-patient.js";

export const IDENTITY_PROBLEMS = {
  ...SAME_PATIENT_PROBLEMS,
  "visit-of-two-patients": {
    meaning: "One visit number stands in visits of two patients.",
    cure: "Give each visit its own number.",
  },
  "visit-twice": {
    meaning: "One visit number stands in two files of one patient.",
    cure: "Keep one file, or give each visit its own number.",
  },
  "number-looks-alike": {
    meaning:
      "Two patient numbers can be taken for each other: they differ only in look-alike letters, leading zeros, case or spaces.",
    cure: "Write one patient's number the same everywhere. If they are two patients, accept this id with the reason.",
  },
  "one-person-two-numbers": {
    meaning: "One name and date of birth stand under two patient numbers.",
    cure: "If it is one person, keep one number; earlier visits are not compared across numbers. If they are two, accept this id.",
  },
  "nearly-one-person": {
    meaning: "Name, date of birth and patient number nearly agree with a visit under another number.",
    cure: "Look for a slip in the number, the name or the date of birth. If they are two people, accept this id.",
  },
  "photo-of-two-patients": {
    meaning: "One photo stands in visits of two patients.",
    cure: "Take it out of the visit that it does not belong to, or accept this id with the reason.",
  },
  "name-spelled-differently": {
    meaning: "The name is spelled or ordered differently in another visit of the patient.",
    cure: "Write it the same way in all visits, or accept this id.",
  },
  "name-without-letters": {
    meaning: "A name holds no letters that can be seen.",
    cure: "Type the name afresh.",
  },
  "mixed-scripts": {
    meaning: "A name or number mixes letters of two scripts that look alike.",
    cure: "Type it afresh with one keyboard.",
  },
} as const satisfies Record<string, ProblemKind>;

export type IdentityProblemId = keyof typeof IDENTITY_PROBLEMS;
