/** Where a letter's scalp map stands: beside the history, over the findings table, or across the page where that holds too little. */
import type { PlannedMap } from "../diagram/diagram.js";
import type { LetterFacts } from "./variables.js";

/** Points: width of the text on the papers in use, the gap beside a map, and the widths it may have there. */
const TEXT_WIDTH = 466;
const GUTTER = 16;
const WIDTHS = [150, 170, 190, 220, 255];
const ACROSS = 470;
/** Points: no taller, or history and map would not stand under the summary on a first page. */
const TALLEST = 250;

/** Of running text in a letter, in points: a letter's mean width, a line, and the heading that stands over it. */
const LETTER_WIDTH = 5.3;
const LINE = 13.2;
const HEADING = 26;
/** The longest line of running text. */
const MEASURE = 400;
/** So much height is left empty under a short history rather than the map moved below the table. */
const SPARED = 12;

export interface PlacedMap {
  readonly map: PlannedMap;
  /** Shares of the width, history first; empty where the map stands alone. */
  readonly widths: string;
}

/**
 * Of the maps at the widths that `mapAt` plans, the one that with the history beside it takes least height; across the page where
 * four views over each other would leave a hole under a short history.
 */
export function placeMap(facts: LetterFacts, mapAt: (width: number) => PlannedMap): PlacedMap {
  const { medicines: _medicines, allergies: _allergies, ...history } = facts.history;
  const letters = lettersOf([
    facts.visit.reason,
    facts.patient.age,
    facts.patient.sex,
    history,
    facts.tests,
    facts.examination,
    facts.scope,
    facts.notAssessed,
    facts.measurementTables.length > 0 ? [] : [facts.wholeScalp, facts.measurementNotes],
  ]);
  const beside = WIDTHS.map((width) => {
    const map = mapAt(width);
    const room = TEXT_WIDTH - GUTTER - width;
    const text = HEADING + Math.ceil((letters * LETTER_WIDTH) / room) * LINE;
    return { map, widths: `${room} ${width}`, height: Math.max(map.height, text) };
  });
  const best = beside.reduce((a, b) => (b.height < a.height ? b : a));
  const across = mapAt(ACROSS);
  const below = HEADING + Math.ceil((letters * LETTER_WIDTH) / MEASURE) * LINE + across.height;
  return best.height <= TALLEST && best.height - below <= SPARED ? best : { map: across, widths: "" };
}

/** How many letters all texts within hold together. */
function lettersOf(value: unknown): number {
  if (typeof value === "string") return value.length + 1;
  return typeof value === "object" && value !== null
    ? Object.values(value).reduce((sum: number, part) => sum + lettersOf(part), 0)
    : 0;
}
