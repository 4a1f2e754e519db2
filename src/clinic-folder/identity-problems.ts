/** The problems of whose visit it is: their meaning, how grave they are, and how they are told. */
import { relative } from "node:path";
import type { Problem, ProblemKind, Severity } from "../base/problem.js";
import { SAME_PATIENT_PROBLEMS } from "../visit/same-patient.js";
import type { Doubt, Known } from "./people.js";

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

/** The rest are errors: nothing is made until a person has looked. */
const WARNINGS: ReadonlySet<IdentityProblemId> = new Set([
  "visit-twice",
  "one-person-two-numbers",
  "nearly-one-person",
  "name-spelled-differently",
  "mixed-scripts",
]);

export function severityOf({ id, isAccepted }: Doubt): Severity {
  return isAccepted ? "note" : WARNINGS.has(id) ? "warning" : "error";
}

const PATH: Readonly<Record<IdentityProblemId, string>> = {
  "given-differs": "patient.name.given",
  "family-differs": "patient.name.family",
  "born-differs": "patient.born",
  "sex-differs": "patient.sex",
  "visit-of-two-patients": "visit.id",
  "visit-twice": "visit.id",
  "number-looks-alike": "patient.id",
  "one-person-two-numbers": "patient.id",
  "nearly-one-person": "patient.id",
  "photo-of-two-patients": "sites",
  "name-spelled-differently": "patient.name",
  "name-without-letters": "patient.name",
  "mixed-scripts": "patient",
};

const MOST_NAMED = 3;

/** Of the other visits: their numbers, and nothing of what they say. */
export function othersOf({ others }: Doubt): string {
  const named = others.slice(0, MOST_NAMED).map(({ identity }) => identity.visit);
  const more = others.length > MOST_NAMED ? ` and ${others.length - MOST_NAMED} more` : "";
  return `${others.length > 1 ? "visits" : "visit"} ${named.join(", ")}${more}`;
}

/** The doubt as a problem of the visit file, for the clinician's own screen: it quotes both sides. */
export function identityProblem(doubt: Doubt, own: Known): Problem {
  const { id, photo } = doubt;
  const [first] = doubt.others;
  const found = foundIn(doubt, own);
  const expected = doubt.isAccepted ? undefined : IDENTITY_PROBLEMS[id].cure;
  return {
    severity: severityOf(doubt),
    id,
    message: `${says(doubt)}${first ? `: see ${othersOf(doubt)} (${relative(process.cwd(), first.file)})` : ""}${doubt.isAccepted ? " (accepted)" : ""}`,
    file: own.file,
    path: photo === undefined ? PATH[id] : PATH["photo-of-two-patients"],
    ...(found ? { found } : {}),
    ...(expected ? { expected } : {}),
  };
}

/** What this visit says, and what the first other one says in its place. */
function foundIn({ id, others, photo }: Doubt, { identity }: Known): string | undefined {
  const other = others[0]?.identity;
  if (!other) return undefined;
  const sides: Partial<Record<IdentityProblemId, readonly [string, string]>> = {
    "given-differs": [identity.given, other.given],
    "family-differs": [identity.family, other.family],
    "born-differs": [identity.born, other.born],
    "sex-differs": [identity.sex, other.sex],
    "number-looks-alike": [identity.patient, other.patient],
    "one-person-two-numbers": [identity.patient, other.patient],
    "nearly-one-person": [
      `${identity.patient}, ${identity.given} ${identity.family}, ${identity.born}`,
      `${other.patient}, ${other.given} ${other.family}, ${other.born}`,
    ],
    "name-spelled-differently": [
      `${identity.given} ${identity.family}`.trim(),
      `${other.given} ${other.family}`.trim(),
    ],
  };
  const pair = sides[id];
  return photo ?? (pair ? `${pair[0]}; there ${pair[1]}` : undefined);
}

function says({ id }: Doubt): string {
  const { meaning } = IDENTITY_PROBLEMS[id];
  return `${meaning.charAt(0).toLowerCase()}${meaning.slice(1).replace(/\.$/u, "")}`;
}
