/** What the handout adds: drawings with plain sentences, the impression in plain words, when to get help, words explained. */
import { forHome } from "../interpret/at-home.js";
import { heldImpressions } from "../visit/held.js";
import type { FactsInput } from "./facts-input.js";
import type { SiteRow } from "./findings-table.js";
import { wordsUsed } from "./glossary.js";
import { helpFacts } from "./help.js";
import { testFacts } from "./history-facts.js";
import { namedImpressions, namingPieces } from "./named.js";
import { list, type Words } from "./phrases.js";
import { picturedFindings } from "./pictured.js";
import { plainPhotoFacts } from "./pictures.js";
import { picturedGrades, scoreLines } from "./scores-plain.js";
import type { Chooser } from "./sentences.js";
import type { LetterFacts } from "./variables.js";
import type { handoutVariables } from "./variables-handout.js";

/** Keeps a spelt-out sound on one line. */
const NO_BREAK_HYPHEN = "\u2011";
const MOST_WORDS = 8;
const MOST_QUESTIONS = 3;
/** More sites than this are told by place, where places have more than one. Common practice, no source. */
const MOST_SITES_APART = 5;

export type HandoutFacts = Pick<LetterFacts, "sitesPlain" | keyof typeof handoutVariables>;

/** `cautions` are the patient's, as the document prints them. */
export function handoutFacts(
  input: FactsInput,
  sites: readonly SiteRow[],
  choose: Chooser,
  cautions: readonly string[],
): HandoutFacts {
  const { visit, knowledge, words } = input;
  const named = namedFacts(input, choose);
  const pictured = [...picturedFindings(input), ...picturedGrades(input)];
  const photosPlain = plainPhotoFacts(input);
  const inPhoto = new Set(photosPlain.flatMap((photo) => photo.legend.map((line) => line.name)));
  const disorders = namedImpressions(visit).flatMap((i) => knowledge.disorders[i.disorder] ?? []);
  const atHome = forHome(visit, knowledge);
  // A test may tell the name that is kept for a talk.
  const resultsPlain = visit.impression.some((i) => i.inHandout === false)
    ? []
    : [...scoreLines(input), ...testFacts(words, { ...visit, tests: atHome.tests })];
  const text = [
    ...pictured.flatMap((p) => [p.name, p.means]),
    ...photosPlain.flatMap((photo) => photo.legend.flatMap((line) => [line.name, line.means])),
    // What comes next in general is told at the first visit only.
    ...named.flatMap((t) => [...t.is, ...t.means, ...(input.change ? [] : t.next)]),
    ...atHome.plan.map((l) => l.action),
    ...resultsPlain.map((line) => line.says),
    ...cautions,
  ].join(" \n ");
  return {
    sitesPlain: [...new Set(sites.map((s) => s.plain))],
    placesPlain: placesTogether(words, sites),
    pictured,
    drawn: pictured.filter((p) => !inPhoto.has(p.name)),
    photosPlain,
    named,
    nameKept: named.length === 0 && heldImpressions(visit).length > 0,
    resultsPlain,
    help: helpFacts(input, choose),
    questions: [...new Set(disorders.flatMap((d) => choose.sentences(d.patient.ask)))].slice(
      0,
      MOST_QUESTIONS,
    ),
    glossary: wordsUsed(text, knowledge.glossary, words).slice(0, MOST_WORDS),
  };
}

/** `1 and 2: the front of the scalp (about 2 cm across; about 3 cm across)`, each place once. */
function placesTogether(words: Words, sites: readonly SiteRow[]): string[] {
  const places = [...new Set(sites.map(({ plain }) => plain))];
  if (sites.length <= MOST_SITES_APART || places.length === sites.length) return [];
  return places.map((place) => {
    const here = sites.filter(({ plain }) => plain === place);
    const numbers = list(
      words,
      here.map(({ number }) => String(number)),
    );
    const sizes = [...new Set(here.flatMap(({ patchPlain }) => patchPlain || []))];
    const nothing = here.every(({ nothingPlain }) => nothingPlain) ? here[0]?.nothingPlain : undefined;
    return `${numbers}: ${place}${sizes.length > 0 ? ` (${sizes.join("; ")})` : ""}${nothing ? `: ${nothing}` : ""}`;
  });
}

function namedFacts(input: FactsInput, choose: Chooser): HandoutFacts["named"] {
  const { words, knowledge, visit } = input;
  return namedImpressions(visit).flatMap((impression, index) => {
    const p = knowledge.disorders[impression.disorder]?.patient;
    if (!p) return [];
    const isFirst = index === 0;
    // The second name is told in brief: one sheet holds one story.
    return [
      {
        name: p.name,
        says: namingPieces(words, knowledge, impression, isFirst),
        say: (p.say ?? "").replaceAll("-", NO_BREAK_HYPHEN),
        is: choose.sentences(isFirst ? p.is : p.is.slice(0, 2)),
        means: choose.sentences(isFirst ? p.means : p.means.slice(0, 1)),
        next: isFirst && !input.change ? choose.sentences(p.next) : [],
      },
    ];
  });
}
