/** Small print charts for tables and the progress sheet; all readable without colour. */
export type { ChartWords } from "./chart/phrases.js";
export {
  barPair,
  rangeBar,
} from "./chart/range-bar.js";
export { sharesChart } from "./chart/shares.js";
export { trendChart } from "./chart/trend.js";
