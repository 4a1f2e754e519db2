/** The diagram room's front door. */
export {
  barPair,
  type ChartWords,
  rangeBar,
  trendChart,
} from "./chart.js";
export { gradeDrawing } from "./grade.js";
export { toneOf } from "./pictograms/ink.js";
export { PICTOGRAM_IDS, pictogram } from "./pictograms/pictogram.js";
export {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  type MapWords,
  type PlannedMap,
  planMap,
  scalpMap,
} from "./scalp-map.js";
