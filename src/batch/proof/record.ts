/** What the visit records, held against the printed words: impression, plan, cautions, and nobody else's identifiers. */

import { cautionRules } from "../../letter/caution-rules.js";
import type { Letter } from "../../letter/document.js";
import { namingSentence } from "../../letter/named.js";
import { writeDate } from "../../letter/phrases.js";
import { dayOf, inWords } from "../../letter/when.js";
import { heldImpressions } from "../../visit/held.js";
import type { Impression } from "../../visit/visit.js";
import { type Reason, reason } from "../outcome.js";
import { findTokens, holdsTokens, matchAt, type Spelled, tokensOf } from "../token-text.js";
import { compareWords, countMoved, countOtherSigns, letterWords } from "./letter-words.js";
import type { PrintedPage } from "./printed-pages.js";
import { allowedNames, type ProofInput } from "./proof-input.js";

/** Words between the name of a disorder and its certainty: a comma, a code, a bracket. */
const NEAR = 8;

/** For a doctor: name and certainty of each impression, close together. For a patient: the sentence that says so. */
export function impressionFaults(input: ProofInput, body: readonly string[]): Reason[] {
  const stated = heldImpressions(input.visit);
  const wrong = input.reader === "patient" ? toPatient(input, stated, body) : toDoctor(input, stated, body);
  return wrong.map((i) =>
    reason("impression-differs", `impression ${input.visit.impression.indexOf(i) + 1}`),
  );
}

function toDoctor(input: ProofInput, stated: readonly Impression[], body: readonly string[]): Impression[] {
  return stated.filter((i) => {
    const term = tokensOf(input.knowledge.disorders[i.disorder]?.term ?? i.disorder);
    const certainty = tokensOf(input.pack.words.certainty[i.certainty] ?? i.certainty);
    for (let at = findTokens(body, term); at >= 0; at = findTokens(body, term, at + 1)) {
      const next = findTokens(body, certainty, at + term.length);
      if (next >= 0 && next <= at + term.length + NEAR)
        return !(i.note === undefined || holdsTokens(body, tokensOf(i.note)));
    }
    return true;
  });
}

/** The handout names two impressions at most, none that the clinician keeps for a talk, and no lesser one in its place. */
function toPatient(input: ProofInput, stated: readonly Impression[], body: readonly string[]): Impression[] {
  const told = stated[0]?.inHandout === false ? [] : stated.filter((i) => i.inHandout !== false).slice(0, 2);
  const missing = told.filter((i, index) => {
    const sentence = namingSentence(input.pack.words, input.knowledge, i, index === 0);
    return !holdsTokens(body, tokensOf(sentence));
  });
  const leaked = stated.filter(
    (i) =>
      i.inHandout === false &&
      holdsTokens(body, tokensOf(input.knowledge.disorders[i.disorder]?.patient.name ?? i.disorder)),
  );
  return [...missing, ...leaked];
}

/** Each line of the plan, word for word, with its time close to it: as typed, in the document's language, or as the day counted from it. */
export function planFaults(input: ProofInput, body: readonly string[]): Reason[] {
  return input.visit.plan.flatMap((line, index) => {
    const day = line.when && dayOf(line.when, input.visit.date);
    const { words } = input.pack;
    const when = line.when ?? "";
    const times = [when, inWords(words, when), ...(day ? [writeDate(words, day)] : [])].map(tokensOf);
    const said = placesOf(body, tokensOf(line.action)).some(([start, end]) =>
      times.some(
        (time) =>
          time.length === 0 ||
          holdsTokens(body.slice(Math.max(0, start - time.length - NEAR), start), time) ||
          holdsTokens(body.slice(end, end + time.length + NEAR), time),
      ),
    );
    return said ? [] : [reason("plan-differs", `line ${index + 1} of the plan`)];
  });
}

/** Where some words stand: first and after the last. */
function placesOf(body: readonly string[], wanted: readonly string[]): [number, number][] {
  const places: [number, number][] = [];
  for (let at = findTokens(body, wanted); at >= 0; at = findTokens(body, wanted, at + 1))
    places.push([at, at + matchAt(body, at, wanted)]);
  return places;
}

export function cautionFaults(input: ProofInput, body: readonly string[]): Reason[] {
  const { reader } = input;
  if (reader === "third party") return [];
  const { isClosedToDoctor, isTellable } = cautionRules(input);
  const isSaid = (id: string) =>
    reader === "doctor" ? !isClosedToDoctor(id) : reader !== "patient" || isTellable(id);
  return input.interpretation.cautions
    .filter(({ id }) => isSaid(id))
    .flatMap((caution) =>
      [input.knowledge.cautions[caution.id]?.[reader] ?? caution[reader] ?? []]
        .flat()
        .every((text) => holdsTokens(body, tokensOf(text)))
        ? []
        : [reason("caution-missing", caution.id)],
    );
}

/** Nobody else of the run is named or numbered, unless the clinician accepts it (`accept: other-patient`). */
export function otherPatientFaults(input: ProofInput, pages: readonly PrintedPage[]): Reason[] {
  if (input.visit.accept.some((a) => a.id === "other-patient")) return [];
  const allowed = allowedNames(input.visit, input.clinic);
  return pages.flatMap((page) =>
    input.roll
      .othersIn(page.all, input.visit.patient.id, allowed)
      .map((visit) => reason("other-patient", `of visit ${visit}`, `page ${page.number}`)),
  );
}

/** Word for word, the print holds what the letter says, in its order, and no more. Words are counted, not quoted. */
export function fidelityFaults(letter: Letter, body: readonly string[], running: Spelled): Reason[] {
  const expected = letterWords(letter);
  const { missing, added } = compareWords(expected, body);
  // Where words are missing or added, passages differ for that reason.
  const moved = missing.length + added.length === 0 ? countMoved(expected, running) : 0;
  const signs = missing.length + added.length + moved === 0 ? countOtherSigns(expected, running) : 0;
  return [
    ...(missing.length > 0 ? [reason("text-missing", words(missing.length))] : []),
    ...(added.length > 0 ? [reason("text-added", words(added.length))] : []),
    ...(moved > 0 ? [reason("text-moved", passages(moved))] : []),
    ...(signs > 0 ? [reason("signs-differ", passages(signs))] : []),
  ];
}

function passages(count: number): string {
  return `${count} passage${count === 1 ? "" : "s"}`;
}

function words(count: number): string {
  return `${count} word${count === 1 ? "" : "s"}`;
}
