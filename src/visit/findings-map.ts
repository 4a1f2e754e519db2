/** The findings of a site: names in any accepted spelling, amounts in words or counted, order kept. */

import { z } from "zod";
import type { FindingId } from "../base/ids.js";
import { type Expectation, foundInWords, type ValueIssue } from "./expectation.js";
import { addTrouble, type Json, type Leaf, rawValue, relayIssues, toJson } from "./leaf.js";
import { number, wordJson } from "./leaves.js";
import { AMOUNTS, type Seen } from "./terms.js";
import { plainWords, type Vocabulary } from "./vocabulary.js";
import { wordPattern } from "./word-pattern.js";

/** One line of `findings:`; `key` is the name as written. */
export interface FindingLine {
  readonly key: string;
  readonly finding: FindingId;
  readonly seen: Seen;
}

/** Words for how much of a finding was seen; `seen` is present without a grade. */
export const AMOUNT_WORDS = plainWords("an amount", ["none", ...AMOUNTS, "seen"] as const);

const AMOUNT: Expectation = { kind: "amount" };
const MOST_COUNTED = 5000;
const MOST_FIELDS = 100;

const counted = z.strictObject({
  count: number(1, MOST_COUNTED, { whole: true }).describe("How many were counted, over all the fields."),
  fields: number(1, MOST_FIELDS, { whole: true }).describe("In how many fields of view; 1 when left out."),
});

/** A map from finding names to amounts. */
export function findingsMap(findings: Vocabulary<FindingId>): Leaf<FindingLine[]> {
  const amount = { $ref: "#/definitions/amount" };
  return rawValue(() => ({
    type: ["object", "null"],
    properties: describedBy(findings, amount),
    propertyNames: { pattern: wordPattern(findings.spellings) },
    additionalProperties: amount,
  }))
    .transform((raw, ctx): FindingLine[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      if (typeof raw !== "object" || Array.isArray(raw)) {
        const message = `${foundInWords(raw)} where findings belong`;
        addTrouble(ctx, { problem: "wrong-shape", message, want: { kind: "map" } });
        return undefined;
      }
      return Object.entries(raw).flatMap(([key, value]) => {
        const seen = readAmount(value, ctx, key);
        const finding = findings.find(key);
        if (finding === undefined) {
          const message = `${foundInWords(key)} is not ${findings.what}`;
          const trouble: ValueIssue = {
            problem: "unknown-word",
            message,
            want: { kind: "word", words: findings },
            onKey: true,
          };
          addTrouble(ctx, trouble, [key]);
        }
        return finding !== undefined && seen ? [{ key, finding, seen }] : [];
      });
    })
    .optional();
}

/** A property for each word, with the sentence that says what it is; beside a $ref alone it would be passed over. */
export function describedBy<T extends string>(words: Vocabulary<T>, json: Json): Json {
  return Object.fromEntries(
    [...words.terms].map(([id, term]) => {
      const description = words.says.get(id);
      return [term, description === undefined ? json : { description, allOf: [json] }];
    }),
  );
}

/** The amount that a count stands for, per field of view: 1, 2-3, 4-9, 10 and more (common practice). */
export function amountOfCount(count: number, fields: number): "single" | "few" | "several" | "many" {
  const each = count / fields;
  return each >= 10 ? "many" : each >= 4 ? "several" : each > 1 ? "few" : "single";
}

function readAmount(raw: unknown, ctx: z.core.$RefinementCtx, key: string): Seen | undefined {
  const trouble = (problem: ValueIssue["problem"], message: string) => {
    addTrouble(ctx, { problem, message, want: AMOUNT }, [key]);
    return undefined;
  };
  if (raw === null || raw === undefined || raw === "") return undefined;
  if (Array.isArray(raw)) return trouble("wrong-shape", "a list where an amount belongs");
  if (typeof raw === "object") return readCount(raw, ctx, key);
  const written = String(raw);
  const word = AMOUNT_WORDS.find(written);
  if (word === undefined) return trouble("unknown-word", `${foundInWords(written)} is not an amount`);
  if (word === "none") return { state: "absent" };
  return { state: "present", amount: word === "seen" ? null : word };
}

function readCount(raw: object, ctx: z.core.$RefinementCtx, key: string): Seen | undefined {
  if ("count" in raw && /^[+-]?0+$/u.test(String(raw.count).trim())) {
    const message = "a count of 0 says looked for and not seen";
    addTrouble(ctx, { problem: "count-zero", message, want: AMOUNT, suggestion: "none" }, [key]);
    return undefined;
  }
  const parsed = counted.safeParse(raw);
  if (!parsed.success) {
    relayIssues(ctx, parsed.error.issues, [key], Object.keys(counted.shape));
    return undefined;
  }
  const { count, fields = 1 } = parsed.data;
  if (count === undefined) {
    addTrouble(ctx, { problem: "missing-key", message: "count is missing", want: AMOUNT }, [key]);
    return undefined;
  }
  return { state: "present", amount: amountOfCount(count, fields), count: { count, fields } };
}

/** The JSON Schema of an amount, which the findings refer to as `#/definitions/amount`. */
export function amountJson(): Json {
  const { properties } = toJson(counted);
  const count = { type: "object", properties, required: ["count"], additionalProperties: false };
  return { anyOf: [wordJson(AMOUNT_WORDS), count, { type: "null" }] };
}
