/** Small print charts for tables and the progress sheet; all readable without colour. */
export type { NormalRange } from "./chart/normal.js";
export { type ChartWords, ENGLISH_CHART_WORDS } from "./chart/phrases.js";
export {
  type BarPairInput,
  barPair,
  type Measured,
  type RangeBarInput,
  rangeBar,
} from "./chart/range-bar.js";
export { type ShareMark, type SharesInput, sharesChart } from "./chart/shares.js";
export { type TrendInput, type TrendPoint, trendChart } from "./chart/trend.js";
