/** Parts of the page that need no browser: finding a word, amounts, places on the map, the page's own copy of the edits. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editText, writtenIn } from "../../src/desk/edit-yaml.js";
import type { Edit, FindingEntry, Written } from "../../src/desk/messages.js";
import { amountEdits, recordedAt, restNotSeen, takeBack } from "../../src/desk/page/amounts.js";
import { apply } from "../../src/desk/page/apply.js";
import { MAP, placeIn, pointsOf, under } from "../../src/desk/page/map-places.js";
import { matches } from "../../src/desk/page/match.js";
import { withLookup } from "../../src/desk/page/use.js";
import { placesThatDiffer } from "../../src/desk/places.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import { REGIONS } from "../../src/visit/visit.js";
import { knowledge, TODAY } from "./open-desk.js";

const findings = Object.values(knowledge().findings).map(
  ({ id, term, also, group, what }): FindingEntry => ({
    id,
    term,
    also,
    group,
    what,
    look: null,
    picture: "",
  }),
);
const words = withLookup({
  folder: "",
  today: TODAY,
  clinic: null,
  people: [],
  findings,
  disorders: [],
  regions: [],
  scores: [],
  recipients: [],
  nextId: "",
});
const byTerm = (term: string): FindingEntry => {
  const found = findings.find((f) => f.term === term);
  if (!found) throw new Error(`no finding ${term}`);
  return found;
};

describe("typing a finding", () => {
  it.each(findings.flatMap(({ id, term, also }) => [term, ...also].map((spelling) => ({ spelling, id }))))(
    "$spelling leads to $id",
    ({ spelling, id }) => {
      expect(matches(spelling, findings)[0]?.entry.id).toBe(id);
    },
  );

  it("takes the beginnings of words, forgives a slip and offers nothing for nothing", () => {
    const first = (typed: string) => matches(typed, findings)[0]?.entry.term;
    expect(first("yel dot")).toBe("yellow dots");
    expect(first("excl")).toBe("exclamation mark hairs");
    expect(first("yelow dots")).toBe("yellow dots");
    expect(matches("", findings)).toEqual([]);
    expect(matches("zzzzzzzz", findings)).toEqual([]);
  });
});

describe("amounts", () => {
  const site: Written = {
    sites: [{ site: "vertex", none_of: "black dots", findings: { "exclamation point hairs": "few" } }],
  };

  it("stand for the finding however it is spelled, and a list of one may be a word", () => {
    const recorded = recordedAt(site, 0, words);
    expect(recorded.get("black-dots")).toMatchObject({ word: "none", listed: true });
    expect(recorded.get("exclamation-mark-hairs")).toMatchObject({
      word: "few",
      key: "exclamation point hairs",
    });
  });

  it("change at the spelling that the file has, and leave the not-seen list when seen", () => {
    const change = (term: string, amount: string | null) =>
      apply(site as Record<string, Written>, amountEdits(site, 0, byTerm(term), amount, words));
    expect(change("exclamation mark hairs", "many").sites).toEqual([
      { site: "vertex", none_of: "black dots", findings: { "exclamation point hairs": "many" } },
    ]);
    expect(change("black dots", "few").sites).toEqual([
      { site: "vertex", findings: { "exclamation point hairs": "few", "black dots": "few" } },
    ]);
    expect(change("exclamation mark hairs", null).sites).toEqual([{ site: "vertex", none_of: "black dots" }]);
  });

  it("of a whole group: one stroke marks the rest and keeps what was recorded; one takes it back", () => {
    const group = findings.filter((f) => f.group === "follicular opening");
    const marked = apply(site as Record<string, Written>, restNotSeen(site, 0, group, words));
    const recorded = recordedAt(marked, 0, words);
    expect(group.every(({ id }) => recorded.get(id)?.word === "none")).toBe(true);
    expect(restNotSeen(marked, 0, group, words)).toEqual([]);
    const back = apply(marked, takeBack(marked, 0, group, words));
    expect([...recordedAt(back, 0, words).keys()]).toEqual(["exclamation-mark-hairs"]);
  });
});

describe("the map", () => {
  const regions = REGIONS.filter((region) => region !== "whole scalp");

  it("finds the region and the place that a point was drawn for", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...regions),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (site, x, y) => {
          const point = pointsOf([{ site, at: { x, y } }])[0];
          if (!point) throw new Error(`${site} is not drawn`);
          const place = placeIn(site, point);
          expect(place?.x).toBeCloseTo(x, 1);
          expect(place?.y).toBeCloseTo(y, 1);
          expect(under(point)?.region).toBe(site);
        },
      ),
    );
  });

  it("has nothing beside the heads and a place for the whole scalp", () => {
    expect(under([1, 1])).toBeUndefined();
    expect(under([MAP.width - 1, MAP.height - 1])).toBeUndefined();
    expect(pointsOf([{ site: "whole scalp" }, null])).toEqual([
      [expect.any(Number), expect.any(Number)],
      null,
    ]);
  });
});

it("shows after an edit what the server will have written", () => {
  const schema = visitJsonSchema(knowledge());
  const key = fc.constantFrom("visit", "history", "notes", "plan", "sites", "who", "at");
  const path = fc
    .tuple(fc.constantFrom("visit", "history", "plan"), fc.array(key, { maxLength: 2 }))
    .map(([top, rest]) => [top, ...rest]);
  const edit: fc.Arbitrary<Edit> = fc.oneof(
    fc.record({
      do: fc.constant("set" as const),
      path,
      value: fc.constantFrom("a", "b c", "null", "3", "x: y"),
    }),
    fc.record({ do: fc.constant("remove" as const), path }),
  );
  fc.assert(
    fc.property(fc.array(edit, { maxLength: 6 }), (edits) => {
      let text = "format: 1\n";
      let own: Record<string, Written> = { format: "1" };
      for (const one of edits) {
        try {
          text = editText(text, [one], schema);
        } catch {
          continue; // What the file refuses, the page takes back.
        }
        own = apply(own, [one]) as Record<string, Written>;
      }
      expect(placesThatDiffer(own, writtenIn(text))).toEqual([]);
    }),
  );
});
