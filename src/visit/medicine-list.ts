/** Medicines: a name alone, or a name with how long it has been taken, since when stopped, and what for. */
import { z } from "zod";
import { foundInWords } from "./expectation.js";
import { schemasOf, value } from "./key.js";
import { addTrouble, anyType, type Leaf, orNull, rawValue, relayIssues, toJson } from "./leaf.js";
import { number, text } from "./leaves.js";
import type { Medicine } from "./terms.js";

const MOST = 200;
const ITEMS = 60;

/** The keys of a medicine that is more than a name. */
export const MEDICINE_KEYS = {
  name: value(text(MOST), "Name of the medicine, generic where it can be."),
  since_weeks: value(number(0, 5200, { unit: "weeks" }), "Weeks it has been taken."),
  stopped_weeks: value(number(0, 5200, { unit: "weeks" }), "Weeks since it was stopped."),
  for: value(text(MOST), "What it is taken for."),
};

const entry = z.strictObject(schemasOf(MEDICINE_KEYS));

/** A list of medicines; one name alone counts as a list of one, a block of lines as a list of lines. */
export function medicineList(): Leaf<Medicine[]> {
  const name = text(MOST);
  return rawValue(() => {
    const { properties } = toJson(entry);
    const word = anyType(["string", "number"], { maxLength: MOST });
    const full = { type: "object", properties, required: ["name"], additionalProperties: false };
    return {
      anyOf: [
        { type: "array", maxItems: ITEMS, items: orNull({ anyOf: [word, full] }) },
        anyType(["string", "number"], { maxLength: MOST * ITEMS }),
        { type: "null" },
      ],
    };
  })
    .transform((raw, ctx): Medicine[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      const one = typeof raw === "object" && !Array.isArray(raw);
      const list: readonly unknown[] = Array.isArray(raw) ? raw : one ? [raw] : String(raw).split(/\r?\n/u);
      if (list.length > ITEMS) {
        const message = `more than ${ITEMS} items`;
        addTrouble(ctx, { problem: "text-too-long", message, want: { kind: "list" } });
        return undefined;
      }
      return list.flatMap((item, i) => {
        const path = Array.isArray(raw) ? [i] : [];
        const named = typeof item === "object" && item !== null && !Array.isArray(item);
        const parsed = named ? entry.safeParse(item) : name.safeParse(item);
        if (!parsed.success) {
          relayIssues(ctx, parsed.error.issues, path, Object.keys(entry.shape));
          return [];
        }
        if (typeof parsed.data === "string") return [{ name: parsed.data }];
        if (parsed.data === undefined || typeof parsed.data !== "object") return [];
        const { name: called, since_weeks: sinceWeeks, stopped_weeks: stoppedWeeks, for: why } = parsed.data;
        if (called === undefined) {
          const message = `${foundInWords(item)} without a name`;
          addTrouble(ctx, { problem: "missing-key", message, want: { kind: "text", most: MOST } }, path);
          return [];
        }
        return [
          {
            name: called,
            ...(sinceWeeks === undefined ? {} : { sinceWeeks }),
            ...(stoppedWeeks === undefined ? {} : { stoppedWeeks }),
            ...(why === undefined ? {} : { for: why }),
          },
        ];
      });
    })
    .optional();
}
