/** The words of the charts, as data. Marks in braces are filled in. */
export interface ChartWords {
  readonly normal: string;
  readonly value: string;
  readonly interval: string;
  readonly none: string;
  readonly trend: string;
  readonly trendOne: string;
  readonly normalBetween: string;
  readonly normalFrom: string;
  readonly normalTo: string;
  readonly threshold: string;
  readonly compared: string;
}

export const ENGLISH_CHART_WORDS: ChartWords = {
  normal: "normal",
  value: "{label}: {value}{unit}",
  interval: " (interval {low} to {high})",
  none: "no value",
  trend: "{title}, {count} visits.",
  trendOne: "{title}, one visit.",
  normalBetween: "{label}: {low} to {high}{unit}.",
  normalFrom: "{label}: from {low}{unit}.",
  normalTo: "{label}: up to {high}{unit}.",
  threshold: "{label}: {value}{unit}.",
  compared: "{title}.",
};
