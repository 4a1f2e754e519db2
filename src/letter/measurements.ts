/** Measures as rows of a letter: value, interval, count, published reference and numbered source. */

import { fill, withoutCapital } from "../base/text.js";
import type { Source } from "../knowledge/schema.js";
import type { Measured, NormalRange } from "../measure/types.js";
import type { Visit } from "../visit/visit.js";
import { capital, list, type Words, writeNumber, writeRecorded } from "./phrases.js";
import { respell } from "./spelling.js";
import type { LetterFacts } from "./variables.js";

/** Numbers publications in the order they are first cited. */
export class SourceList {
  private readonly order: string[] = [];
  /** `said` gives the words for `common practice` and `from memory`. */
  constructor(
    private readonly sources: Readonly<Record<string, Source>>,
    private readonly said: Readonly<Record<string, string>> = {},
  ) {}

  /** `1` or `1, 2`; the words themselves for `common practice` and `from memory`. */
  cite(source: string): string {
    const ids = source.split(/\s*;\s*/u);
    const known = ids.filter((id) => this.sources[id]);
    for (const id of known) if (!this.order.includes(id)) this.order.push(id);
    const numbers = known.map((id) => this.order.indexOf(id) + 1).sort((a, b) => a - b);
    const others = ids.filter((id) => !this.sources[id]).map((id) => this.said[id] ?? id);
    return [...numbers, ...others].join(", ");
  }

  list(): { number: number; citation: string; short: string }[] {
    return this.order.map((id, i) => ({
      number: i + 1,
      citation: this.sources[id]?.citation ?? id,
      short: shortCitation(this.sources[id], id),
    }));
  }
}

/** Letters of a title that a list of sources has room for. */
const LONGEST_TITLE = 170;

/**
 * First author, year and where to find it: `Rakowska 2009, doi 10.3315/jdcr.2008.1021`. A source without author and year is
 * named by its title; a very long one ends in an ellipsis.
 */
export function shortCitation(source: Source | undefined, id: string): string {
  if (!source) return id;
  const { doi, pmid } = source;
  // The list sets its own full stop.
  const citation = source.citation.replace(/\.$/u, "");
  const author = /^(\p{Lu}[\p{L}'’-]+(?: \p{Lu}[\p{L}'’-]+)?)(?= \p{Lu}{1,3}\b)/u.exec(citation)?.[1];
  const year = /\b(?:19|20)\d{2}\b/u.exec(citation.replace(/10\.\d{4,}\S+/gu, ""))?.[0];
  const where = doi ? `doi ${doi}` : pmid ? `PMID ${pmid}` : "";
  if (author && year) return [`${author} ${year}`, where].filter(Boolean).join(", ");
  const opening =
    citation.length > LONGEST_TITLE
      ? `${citation.slice(0, LONGEST_TITLE).replace(/\s+\S*$/u, "")} …`
      : citation;
  return where && !opening.includes(where.slice(4)) ? `${opening}, ${where}` : opening;
}

/** The list of publications of one document, in the words of its language. */
export function sourceList(words: Words, sources: Readonly<Record<string, Source>>): SourceList {
  const { common_practice, memory_mark } = words.phrases;
  return new SourceList(sources, {
    ...(common_practice ? { "common practice": common_practice } : {}),
    ...(memory_mark ? { "from memory": memory_mark } : {}),
  });
}

/** Words of a measure in the language of the pack: whole, or piece by piece for `limited (AA-IGA); S1 (older class)`. */
export function measureText(words: Words, text: string): string {
  const said = (part: string) =>
    Object.hasOwn(words.measure_texts, part) ? words.measure_texts[part] : undefined;
  return (
    said(text) ??
    text
      .replace(/^of (\d+)$/u, (_, n) => said("of {n}")?.replace("{n}", n) ?? `of ${n}`)
      .split(/(; | \(|\))/u)
      .map((part) => said(part) ?? respell(words.spelling, part))
      .join("")
  );
}

/** The printed name of a measure, with a capital. */
export function measureName(words: Words, id: string, term: string): string {
  return words.measures[id] ?? measureText(words, capital(term));
}

/** Without the bracket that explains it, as in a sentence: `thin hairs` for `Thin hairs (under 0.03 mm)`. */
export function shortName(words: Words, id: string, term: string): string {
  const name = measureName(words, id, term).replace(/ \([^)]*\)$/u, "");
  // A word of capitals, such as SALT, keeps them; a language that writes nouns with capitals names the words that lose theirs.
  const small = words.change.small_names ?? "no";
  const isSmall = small === "yes" || small.split(" ").some((word) => name.startsWith(`${word} `));
  return isSmall && /^\p{Lu}\p{Ll}/u.test(name) ? withoutCapital(name) : name;
}

/** `34 % (25 to 44)`, or with the number counted `34 % (25 to 44; 118)`; the interval is left out where the measure has none. */
export function valueText(words: Words, m: Measured, counted = false): string {
  return withInterval(words, m, counted, figureText(words, m));
}

/** The value with its unit alone. */
function figureText(words: Words, m: Measured): string {
  const unit = m.unit ? `\u00a0${measureText(words, m.unit)}` : "";
  return `${writeNumber(words, m.value, m.places)}${unit}`;
}

function withInterval(words: Words, m: Measured, counted: boolean, value: string): string {
  const n = counted && m.n !== undefined ? String(m.n) : "";
  if (m.low === undefined || m.high === undefined) return n ? `${value} (${n})` : value;
  return fill(words.phrases[n ? "interval_counted" : "interval"] ?? "", {
    value,
    low: writeNumber(words, m.low, m.places),
    high: writeNumber(words, m.high, m.places),
    n,
  });
}

/** `30 to 200`, `above 30`, `below 200` */
export function rangeText(words: Words, normal: Pick<NormalRange, "low" | "high">): string {
  const { low, high } = normal;
  const p = words.phrases;
  const say = (n: number) => writeRecorded(words, n);
  if (low !== undefined && high !== undefined)
    return fill(p.between ?? "", { low: say(low), high: say(high) });
  if (low !== undefined) return fill(p.above ?? "", { low: say(low) });
  return high !== undefined ? fill(p.below ?? "", { high: say(high) }) : "";
}

/** Measures a letter to a colleague prints, in this order, and those of every score recorded; the reasoning sheet prints them all. */
export const IN_THE_LETTER = [
  "hair-density",
  "single-unit-share",
  "thin-share",
  "vellus-share",
  "shaft-diameter",
  "diameter-diversity",
  "salt-score",
];

export type MeasurementGroup = LetterFacts["measurements"][number];

/** Whether this visit's letter prints a measure. */
export type InLetter = (id: string) => boolean;

/** Besides its usual measures a letter prints what was worked from a score the clinician took the trouble to record. */
export function measuresOfLetter(visit: Pick<Visit, "scores">): InLetter {
  const recorded = Object.keys(visit.scores).map((key) => key.replaceAll("_", "-"));
  return (id) =>
    IN_THE_LETTER.includes(id) || recorded.some((score) => id === score || id.startsWith(`${score}-`));
}

/** The measures a letter prints, or all of them, one group for each, its sites together. */
export function measurementGroups(
  words: Words,
  all: readonly Measured[],
  sources: SourceList,
  inLetter: InLetter | null,
  termOf: (finding: string) => string,
): MeasurementGroup[] {
  const found = [...new Set(all.map((m) => m.id))];
  const ids = inLetter ? [...new Set([...IN_THE_LETTER, ...found])].filter(inLetter) : found;
  return ids.flatMap((id) => {
    const measured = all.filter((m) => m.id === id);
    const first = measured[0];
    if (!first) return [];
    const site = (m: Measured) => (m.site ? capital(words.regions[m.site] ?? m.site) : "");
    const memory = measured.some((m) => m.fromMemory) ? `, ${words.phrases.memory_mark}` : "";
    return [
      {
        term: measureName(words, id, first.term),
        unit: first.unit ? measureText(words, first.unit) : "",
        values: measured.map((m) => ({
          site: site(m),
          value: [valueText(words, m, inLetter !== null), ...namesOf(words, m, termOf)].join(": "),
          n: m.n === undefined ? "" : String(m.n),
          figure: figureText(words, m),
          bare: writeNumber(words, m.value, m.places),
          interval: [
            withInterval(words, m, inLetter !== null, "").trim(),
            ...(m.site && m.band ? [bandText(words, m.band, inLetter !== null)] : []),
            ...namesOf(words, m, termOf),
          ]
            .filter(Boolean)
            .join(" "),
        })),
        // A colleague is told of published ranges; where the rule itself comes from stands on the reasoning sheet.
        published: inLetter ? publishedText(words, measured, first, sources) : "",
        references: [
          ...measured.flatMap((m) => (m.band ? [bandText(words, m.band, inLetter !== null)] : [])),
          ...(inLetter ? [] : normalTexts(words, measured, sources)),
          ...(inLetter ? [] : ruleReference(words, measured, first.source, memory, sources)),
        ].filter((text, i, all) => all.indexOf(text) === i),
      },
    ];
  });
}

/** `below 30: healthy women, occipital (mean 18.4, SD 12.1) [1]`, each range once. */
function normalTexts(words: Words, measured: readonly Measured[], sources: SourceList): string[] {
  return measured.flatMap(({ normal }) =>
    normal
      ? [`${rangeText(words, normal)}: ${measureText(words, normal.group)} [${sources.cite(normal.source)}]`]
      : [],
  );
}

/** `thin hairs below 10 % (healthy women, frontal and occipital) [1]`; places that share limits, people and source are one. */
function publishedText(
  words: Words,
  measured: readonly Measured[],
  { id, term, unit }: Measured,
  sources: SourceList,
): string {
  const said = new Map<string, string[]>();
  for (const { normal } of measured) {
    if (!normal) continue;
    const group = measureText(words, normal.group).replace(/ \([^)]*\)$/u, "");
    const [people = "", ...place] = group.split(", ");
    const range = `${rangeText(words, normal)}${unit ? `\u00a0${measureText(words, unit)}` : ""}`;
    const key = `${range} (${people}{place}) [${sources.cite(normal.source)}]`;
    said.set(key, [...(said.get(key) ?? []), place.join(", ")]);
  }
  if (said.size === 0) return "";
  const ranges = [...said].map(([key, places]) => {
    const named = [...new Set(places)].filter((place) => place !== "");
    return key.replace("{place}", named.length > 0 ? `, ${list(words, named)}` : "");
  });
  return fill(words.phrases.published ?? "", {
    term: shortName(words, id, term),
    ranges: list(words, ranges),
  });
}

/** The findings that a number of findings counts, by name. */
function namesOf(words: Words, { findings = [] }: Measured, termOf: (finding: string) => string): string[] {
  return findings.length > 0 ? [list(words, findings.map(termOf))] : [];
}

/** More sites than this stand below each other, and their measures side by side. */
const MOST_SITES = 3;
/** Measures side by side, each a value with its interval, that the width of a page holds. */
const MOST_MEASURES = 4;

type Table = LetterFacts["measurementTables"][number];

/** The letter's groups as tables, a column for each site or for each measure, and what concerns the whole scalp as short sentences. */
export function measurementTables(
  groups: readonly MeasurementGroup[],
): Pick<LetterFacts, "measurementTables" | "published" | "wholeScalp"> {
  // In the order of the visit, as far as one measure tells it.
  const longestFirst = groups.toSorted((a, b) => b.values.length - a.values.length);
  const sites = [...new Set(longestFirst.flatMap((g) => g.values.flatMap((v) => v.site || [])))];
  const bySite = groups.filter((g) => g.values.some((v) => v.site !== ""));
  return {
    measurementTables:
      bySite.length === 0
        ? []
        : sites.length > MOST_SITES
          ? inParts(bySite, MOST_MEASURES).map((part) => sitesBelow(sites, part))
          : [measuresBelow(sites, bySite)],
    published: bySite.flatMap((g) => g.published || []),
    wholeScalp: groups
      .filter((g) => !bySite.includes(g))
      .map(
        (g) =>
          `${g.term}: ${[joined(g.values), ...g.references, ...(g.published ? [g.published] : [])].join(", ")}`,
      ),
  };
}

const measuresBelow = (sites: readonly string[], groups: readonly MeasurementGroup[]): Table => ({
  sitesBelow: false,
  heads: [...sites],
  rows: groups.map((g) => ({ term: g.term, cells: sites.map((site) => cellOf(g, site, "figure")) })),
});

/** The unit stands once, in the head. */
const sitesBelow = (sites: readonly string[], groups: readonly MeasurementGroup[]): Table => ({
  sitesBelow: true,
  heads: groups.map(({ term, unit }) => (unit ? `${term}, ${unit}` : term)),
  rows: sites.map((site) => ({ term: site, cells: groups.map((g) => cellOf(g, site, "bare")) })),
});

/** Two patches of one region share its cell. */
function cellOf(
  { values }: MeasurementGroup,
  site: string,
  figure: "figure" | "bare",
): Table["rows"][0]["cells"][0] {
  const [first, ...others] = values.filter((v) => v.site === site);
  if (!first) return { figure: "", interval: "" };
  return others.length === 0
    ? { figure: first[figure], interval: first.interval }
    : { figure: "", interval: joined([first, ...others]) };
}

const joined = (values: MeasurementGroup["values"]) => values.map((v) => v.value).join("; ");

/** As few parts as hold no more than `most`, of about the same size. */
function inParts<T>(items: readonly T[], most: number): T[][] {
  const size = Math.ceil(items.length / Math.ceil(items.length / most));
  return items.flatMap((_, i) => (i % size === 0 ? [items.slice(i, i + size)] : []));
}

/** The rule's source, unless a reference value beside it already cites the same publication. */
function ruleReference(
  words: Words,
  measured: readonly Measured[],
  source: string,
  memory: string,
  sources: SourceList,
): string[] {
  const said = measured.some((m) => m.normal?.source === source);
  return said && !memory
    ? []
    : [fill(words.phrases.rule_source ?? "[{source}]", { source: `${sources.cite(source)}${memory}` })];
}

/** A letter names the class alone; which scheme it belongs to stands on the reasoning sheet. */
function bandText(words: Words, band: string, short: boolean): string {
  return measureText(words, short ? band.replace(/ \(.*$/u, "") : band);
}

/** Caveats of the measures a letter prints. */
export function letterCaveats(words: Words, all: readonly Measured[], inLetter: InLetter): string[] {
  const caveats = all.filter((m) => inLetter(m.id)).flatMap((m) => m.caveat ?? []);
  // A caveat that the heading of the table already tells has no words of its own.
  return [...new Set(caveats)].map((caveat) => measureText(words, caveat)).filter((text) => text !== "");
}
