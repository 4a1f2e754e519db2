/** The diagram room's front door. */
export {
  type BarPairInput,
  barPair,
  type ChartWords,
  ENGLISH_CHART_WORDS,
  type Measured,
  type NormalRange,
  type RangeBarInput,
  rangeBar,
  type TrendInput,
  type TrendPoint,
  trendChart,
} from "./chart.js";
export { gradeDrawing } from "./grade.js";
export type { SignGroup } from "./pictograms/generic.js";
export { type Tone, toneOf } from "./pictograms/ink.js";
export { PICTOGRAM_IDS, pictogram } from "./pictograms/pictogram.js";
export {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  type MapWords,
  type PlannedMap,
  planMap,
  type ScalpMap,
  type ScalpMapInput,
  scalpMap,
  type View,
} from "./scalp-map.js";
