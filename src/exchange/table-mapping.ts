/** Reads a mapping file: which column of a table becomes which place of a visit, with value maps and constants. */

import { z } from "zod";
import { nearestWords } from "../base/nearest.js";
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import type { ProblemId } from "../base/problem-table.js";
import { openYaml, problemsFromIssues, type YamlSource } from "../base/yaml-source.js";
import type { Knowledge } from "../knowledge/schema.js";
import { visitJsonSchema } from "../visit/json-schema.js";
import { visitWords } from "../visit/visit-words.js";
import { type Json, type Place, placeAt } from "./schema-place.js";
import { isEncoding } from "./table-decode.js";
import { asKeys, placeKey, ROW_SITE, readPlace, type Step } from "./table-place.js";
import { factorOf, unitsOf } from "./table-units.js";

export const DATE_ORDERS = ["year-month-day", "day-month-year", "month-day-year"] as const;
export type DateOrder = (typeof DATE_ORDERS)[number];

const words = z.record(z.string(), z.string());
const mappingSchema = z.strictObject({
  format: z.literal("1"),
  columns: z.record(
    z.string(),
    z.union([
      z.string(),
      z.strictObject({ to: z.string(), values: words.optional(), unit: z.string().optional() }),
    ]),
  ),
  constants: z.record(z.string(), z.union([z.string(), z.array(z.string())])).default({}),
  /** Columns left out on purpose. */
  ignore: z.array(z.string()).default([]),
  /** Cells that say nothing, such as `n/a`. */
  empty: z.array(z.string()).default([]),
  read: z
    .strictObject({
      encoding: z.string().optional(),
      delimiter: z.enum([",", ";", "|", "tab"]).optional(),
      decimal: z.enum(["comma", "point"]).optional(),
      dates: z.enum(DATE_ORDERS).optional(),
      /** Of a workbook; the first when left out. */
      sheet: z.string().optional(),
    })
    .default({}),
});

export interface MappedColumn {
  readonly column: string;
  readonly steps: readonly Step[];
  readonly kind: Place["kind"];
  /** True when it speaks of the site that the row is about. */
  readonly ofRow: boolean;
  /** Cell text -> what the visit file says; cells are compared without regard to case. */
  readonly values: Readonly<Record<string, string>>;
  /** What a number of the column is multiplied by; absent where it is in the file's own unit. */
  readonly factor?: number;
}

export interface TableMapping {
  readonly columns: readonly MappedColumn[];
  readonly constants: readonly {
    readonly steps: readonly Step[];
    readonly kind: Place["kind"];
    readonly value: string | number | readonly string[];
  }[];
  readonly ignore: readonly string[];
  readonly empty: readonly string[];
  readonly read: Readonly<z.infer<typeof mappingSchema>["read"]>;
}

/** The mapping in `text`, or every problem in it with its line. */
export function readMapping(text: string, file: string, knowledge: Knowledge): Outcome<TableMapping> {
  const { source, problems } = openYaml(text, file, { asWritten: true });
  if (!source) return { problems };
  const parsed = mappingSchema.safeParse(source.value);
  if (!parsed.success) return { problems: [...problems, ...problemsFromIssues(source, parsed.error.issues)] };
  const places = new Places(source, knowledge, problems);
  const columns = Object.entries(parsed.data.columns).flatMap(([column, to]): MappedColumn[] => {
    const target = typeof to === "string" ? to : to.to;
    const place = places.find(target, ["columns", column]);
    const { values = {}, unit } = typeof to === "string" ? {} : to;
    const factor = unit === undefined ? undefined : places.factor(target, unit, column);
    return place
      ? [
          {
            column,
            steps: place.steps,
            kind: place.kind,
            ofRow: place.steps.includes(ROW_SITE),
            values: folded(values),
            ...(factor === undefined ? {} : { factor }),
          },
        ]
      : [];
  });
  const constants = Object.entries(parsed.data.constants).flatMap(([target, value]) => {
    const place = places.find(target, ["constants"], target);
    if (!place) return [];
    const isNumber = place.kind === "number" && typeof value === "string" && /^\d+(?:\.\d+)?$/u.test(value);
    return [{ steps: place.steps, kind: place.kind, value: isNumber ? Number(value) : value }];
  });
  const { encoding } = parsed.data.read;
  if (encoding !== undefined && !isEncoding(encoding))
    problems.push(
      problemIn(
        source,
        ["read", "encoding"],
        "unknown-encoding",
        `"${encoding}" is not an encoding known here`,
      ),
    );
  if (hasError(problems)) return { problems };
  const { ignore, empty, read } = parsed.data;
  return { value: { columns, constants, ignore, empty: empty.map(foldCell), read }, problems };
}

/** Cells that differ in case or space alone mean the same. */
export function foldCell(cell: string): string {
  return cell.normalize("NFC").trim().replace(/\s+/gu, " ").toLowerCase();
}

function folded(values: Readonly<Record<string, string>>): Record<string, string> {
  return Object.fromEntries(Object.entries(values).map(([cell, word]) => [foldCell(cell), word]));
}

/** Finds places and keeps the account of those taken. */
class Places {
  private readonly taken = new Map<string, string>();
  private readonly schema: Json;

  constructor(
    private readonly source: YamlSource,
    private readonly knowledge: Knowledge,
    private readonly problems: Problem[],
  ) {
    this.schema = visitJsonSchema(knowledge);
  }

  find(
    target: string,
    at: readonly string[],
    key?: string,
  ): { steps: Step[]; kind: Place["kind"] } | undefined {
    const report = (id: ProblemId, message: string, more: Partial<Problem> = {}) => {
      this.problems.push({ ...problemIn(this.source, at, id, message, key), found: target, ...more });
      return undefined;
    };
    const read = readPlace(target, visitWords(this.knowledge).regions);
    if ("fault" in read) return report("unknown-place", read.fault);
    const keys = asKeys(read.steps);
    const place = placeAt(this.schema, keys);
    if (!place) return report("unknown-place", `"${target}" is not a place of a visit file`, this.hint(keys));
    if (place.kind === "map" || place.kind === "list")
      return report("place-too-wide", `"${target}" holds several keys; name one`, {
        expected: place.keys.join(", "),
      });
    const same = placeKey(read.steps);
    const before = this.taken.get(same);
    if (before !== undefined) return report("place-twice", `"${target}" is filled by ${before} already`);
    this.taken.set(same, key === undefined ? `column "${at.at(-1)}"` : "a constant");
    return { steps: read.steps, kind: place.kind };
  }

  /** How much of the file's unit one of a column's unit is. */
  factor(target: string, unit: string, column: string): number | undefined {
    const factor = factorOf(target, unit);
    if (factor !== undefined) return factor;
    const units = unitsOf(target);
    const message = `"${unit}" is no unit of "${target}"`;
    this.problems.push({
      ...problemIn(this.source, ["columns", column, "unit"], "unknown-word", message),
      found: unit,
      ...(units.length > 0 ? { expected: units.join(", ") } : {}),
    });
    return undefined;
  }

  /** The nearest key at the first step that is not there. */
  private hint(keys: readonly (string | number)[]): Partial<Problem> {
    for (let depth = 1; depth <= keys.length; depth++) {
      if (placeAt(this.schema, keys.slice(0, depth))) continue;
      const known = placeAt(this.schema, keys.slice(0, depth - 1))?.keys ?? [];
      const near = nearestWords(String(keys[depth - 1]), known)[0];
      return near === undefined ? {} : { suggestion: near };
    }
    return {};
  }
}

function problemIn(
  source: YamlSource,
  at: readonly string[],
  id: ProblemId,
  message: string,
  key?: string,
): Problem {
  return { severity: "error", id, message, file: source.file, ...source.place(at, key) };
}
