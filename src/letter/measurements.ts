/** Measures as rows of a letter: value, interval, count, published reference and numbered source. */
import type { Source } from "../knowledge/schema.js";
import type { Measured, NormalRange } from "../measure/measures.js";
import { capital, fill, type Words, writeNumber } from "./words.js";

export interface MeasurementRow {
  readonly id: string;
  readonly term: string;
  readonly site: string;
  readonly value: string;
  readonly n: string;
  readonly reference: string;
}

/** Numbers publications in the order they are first cited. */
export class SourceList {
  private readonly order: string[] = [];
  constructor(private readonly sources: Readonly<Record<string, Source>>) {}

  /** `1` or `1, 2`; the words themselves for `common practice` and `from memory`. */
  cite(source: string): string {
    return source
      .split(/\s*;\s*/u)
      .map((id) => {
        if (!this.sources[id]) return id;
        if (!this.order.includes(id)) this.order.push(id);
        return String(this.order.indexOf(id) + 1);
      })
      .join(", ");
  }

  list(): { number: number; citation: string }[] {
    return this.order.map((id, i) => ({ number: i + 1, citation: this.sources[id]?.citation ?? id }));
  }
}

/** `34 % (25 to 44)`; the interval is left out where the measure has none. */
export function valueText(words: Words, m: Measured): string {
  const unit = m.unit ? `\u00a0${m.unit}` : "";
  const value = `${writeNumber(words, m.value, m.places)}${unit}`;
  if (m.low === undefined || m.high === undefined) return value;
  return fill(words.phrases.interval ?? "", {
    value,
    low: writeNumber(words, m.low, m.places),
    high: writeNumber(words, m.high, m.places),
  });
}

function rangeText(words: Words, normal: NormalRange): string {
  const { low, high } = normal;
  const p = words.phrases;
  const say = (n: number) => String(n).replace(".", words.decimal);
  if (low !== undefined && high !== undefined)
    return fill(p.between ?? "", { low: say(low), high: say(high) });
  if (low !== undefined) return fill(p.above ?? "", { low: say(low) });
  return high !== undefined ? fill(p.below ?? "", { high: say(high) }) : "";
}

/** One row per measure, in the order given. */
export function measurementRow(words: Words, m: Measured, sources: SourceList): MeasurementRow {
  const parts: string[] = [];
  if (m.band) parts.push(m.band);
  if (m.normal)
    parts.push(`${rangeText(words, m.normal)}, ${m.normal.group} [${sources.cite(m.normal.source)}]`);
  const rule = `[${sources.cite(m.source)}${m.fromMemory ? ", from memory" : ""}]`;
  return {
    id: m.id,
    term: words.measures[m.id] ?? capital(m.term),
    site: m.site ? capital(words.regions[m.site] ?? m.site) : "–",
    value: valueText(words, m),
    n: m.n === undefined ? "–" : String(m.n),
    reference: parts.length > 0 ? `${parts.join("; ")}; ${rule}` : rule,
  };
}
