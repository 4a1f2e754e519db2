/** The problems of whose visit it is: their meaning, how grave they are, and how they are told. */
import { relative } from "node:path";
import type { Problem, Severity } from "../base/problem.js";
import { IDENTITY_PROBLEMS } from "../base/problem-table.js";
import { withoutCapital } from "../base/text.js";
import type { Doubt, IdentityProblemId, Known } from "./doubt.js";

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
  return withoutCapital(meaning.replace(/\.$/u, ""));
}
