/** One visit file -> everything worked out from it: the visit, its measures, the interpretation and all problems. */
import { resolve } from "node:path";
import { hasError, type Problem } from "../base/problem.js";
import { agreementProblems, interpret } from "../interpret/interpret.js";
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { CameSinceLetter } from "../letter/history-facts.js";
import { letterDay } from "../letter/signing.js";
import { measure } from "../measure/index.js";
import { plausibility } from "../measure/plausible.js";
import type { Measures } from "../measure/types.js";
import { resultsSince } from "../visit/awaited.js";
import { photosHash } from "../visit/beside-photo.js";
import type { Clinic } from "../visit/clinic.js";
import { checkAgainstClinic } from "../visit/clinic.js";
import { type Places, placeAndAccept, readVisit, type VisitRead } from "../visit/read.js";
import { sealedPhotos, sealProblems } from "../visit/seal.js";
import type { Visit } from "../visit/visit.js";

export interface Examined {
  readonly file: string;
  readonly visit: Visit;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
  /** Results that letters of earlier visits awaited. */
  readonly cameSince?: readonly CameSinceLetter[];
  /** Where the parts of the visit stand in its file. */
  readonly places?: Places;
}

export interface ExamineOptions {
  readonly knowledge: Knowledge;
  readonly clinic?: Clinic;
  /** Earlier visits of the same patient, oldest first. */
  readonly earlier?: readonly Visit[];
  /** ISO date that "in the future" is judged against. */
  readonly today?: string;
  /** The visit as it was signed, where it is known: says what was changed since. */
  readonly asSigned?: Visit;
}

/** Reads, checks and weighs one visit. With an error there is no value; nothing is written here. */
export function examineVisit(
  file: string,
  options: ExamineOptions,
): { value?: Examined; problems: Problem[] } {
  return examineRead(
    file,
    readVisit(file, options.knowledge, options.today ? { today: options.today } : {}),
    options,
  );
}

/** As `examineVisit`, for a visit already read, such as one still being written. */
export function examineRead(
  file: string,
  read: VisitRead,
  options: ExamineOptions,
): { value?: Examined; problems: Problem[] } {
  const problems: Problem[] = [...read.problems];
  const visit = read.value;
  if (!visit) return { problems };
  if (options.clinic)
    problems.push(...withFile(checkAgainstClinic(visit, options.clinic, read.places), file));
  const examined = evaluateVisit(visit, options);
  const { measures, interpretation } = examined;
  const found = [
    ...sealProblems(visit, options.asSigned, sealedPhotos(visit) ? photosHash(visit, file) : undefined),
    ...plausibility(visit, measures),
    ...agreementProblems(visit, measures, interpretation, options.knowledge),
  ];
  problems.push(...withFile(placeAndAccept(read, found), file));
  return hasError(problems)
    ? { problems }
    : {
        value: { ...examined, file: resolve(file), ...(read.places ? { places: read.places } : {}) },
        problems,
      };
}

/** Measures and weighs a visit that has been read. */
export function evaluateVisit(visit: Visit, options: ExamineOptions): Omit<Examined, "file"> {
  const measures = measure(visit, options.knowledge);
  const previous = options.earlier?.filter((v) => v.date < visit.date).at(-1);
  const interpretation = interpret(visit, measures, options.knowledge, previous ? { previous } : {});
  const came = cameSince(visit, options.earlier ?? []);
  return { visit, measures, interpretation, ...(came.length > 0 ? { cameSince: came } : {}) };
}

/** A draft awaited something too, and no letter of it left. */
function cameSince(visit: Visit, earlier: readonly Visit[]): CameSinceLetter[] {
  return resultsSince(visit, earlier).flatMap(({ test, visit: id }) => {
    const awaiting = earlier.find((one) => one.id === id);
    return awaiting?.status === "signed" ? [{ test, letter: letterDay(awaiting) }] : [];
  });
}

function withFile(problems: readonly Problem[], file: string): Problem[] {
  return problems.map((p) => ({ file, ...p }));
}
