/** Parts of the page that need no browser: finding a word, amounts, places on the map, the page's own copy of the edits. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { editText, writtenIn } from "../../src/desk/edit-yaml.js";
import type { Edit, FindingEntry, Written } from "../../src/desk/messages.js";
import { amountEdits, recordedAt, restNotSeen, takeBack } from "../../src/desk/page/amounts.js";
import { apply } from "../../src/desk/page/apply.js";
import { MAP, placeIn, pointsOf, under } from "../../src/desk/page/map-places.js";
import { matches } from "../../src/desk/page/match.js";
import { readLine } from "../../src/desk/page/reading.js";
import { rebase } from "../../src/desk/page/rebase.js";
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
    onlyAt: null,
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
  facts: [],
  fields: [],
  regions: [],
  scores: [],
  recipients: [],
  nextId: "",
  nextPatientId: "",
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

/** What a line is read as, in short. */
const read = (line: string) =>
  readLine(line, findings).map((r) =>
    r.kind === "finding"
      ? `${r.finding.term}: ${r.amounts.map(({ says }) => says).join(" | ")}${r.asks ? " ?" : ""}`
      : r.kind === "patch"
        ? r.sizes.map(({ says }) => says).join(" | ")
        : `not understood: ${r.text}`,
  );

describe("a typed or dictated line", () => {
  it.each([
    ["yellow dots 14", ["yellow dots: 14 counted in one field"]],
    ["14 yellow dots", ["yellow dots: 14 counted in one field"]],
    ["yellow dots 1", ["yellow dots: 1 counted in one field"]],
    ["yellow dots fourteen in two fields", ["yellow dots: 14 counted in 2 fields"]],
    ["black dots 3-4", ["black dots: 3–4 a field: few | 3–4 a field: several ?"]],
    ["black dots 5 to 7", ["black dots: 5–7 a field: several"]],
    ["no black dots", ["black dots: not seen"]],
    ["black dots 0", ["black dots: not seen"]],
    ["without hair casts", ["hair casts: not seen"]],
    ["Yellow dots, many.", ["yellow dots: many"]],
    ["Yellow dots, 14.", ["yellow dots: 14 counted in one field"]],
    ["many yellow dots and no black dots", ["yellow dots: many", "black dots: not seen"]],
    ["black dots absent", ["black dots: not seen"]],
    [
      "yellow dots many, no black dots, patch three by two",
      ["yellow dots: many", "black dots: not seen", "patch 30 by 20 mm | patch 3 by 2 mm"],
    ],
    ["patch 20 x 30 mm", ["patch 30 by 20 mm"]],
    ["patch 3 by 2.5 cm", ["patch 30 by 25 mm"]],
    ["exclamation point hairs several", ["exclamation mark hairs: several"]],
    ["yellow dots", ["yellow dots: "]],
    ["yellow dots 1.5", ["not understood: yellow dots 1.5"]],
    ["frogs many", ["not understood: frogs many"]],
    ["no frogs", ["not understood: no frogs"]],
  ])("%j", (line, said) => {
    expect(read(line)).toEqual(said);
  });

  it("names every finding in any spelling with any amount", () => {
    for (const { id, term, also } of findings)
      for (const spelling of [term, ...also])
        for (const [typed, word] of [
          [`${spelling} many`, "many"],
          [`no ${spelling}`, "none"],
          [`${spelling}, several.`, "several"],
        ] as const) {
          const [found, ...rest] = readLine(typed, findings);
          expect(rest, typed).toEqual([]);
          expect(found, typed).toMatchObject({ kind: "finding", amounts: [{ amount: word }] });
          if (found?.kind === "finding") expect(found.finding.id, typed).toBe(id);
        }
  });
});

describe("changes made on one text and kept on another", () => {
  const occipital: Written = { site: "occipital", findings: { "yellow dots": "few" } };
  const parietal: Written = { site: "left parietal", notes: "soft" };
  const base: { readonly [key: string]: Written } = {
    sites: [occipital, parietal],
    plan: [{ action: "A", who: "clinic" }],
  };
  const set = (path: (string | number)[], value: string): Edit => ({ do: "set", path, value });

  it("follow the place to where it stands now", () => {
    const other = { ...base, sites: [parietal] };
    const { edits, clashes } = rebase(base, other, [set(["sites", 1, "findings", "hair casts"], "many")]);
    expect(clashes).toEqual([]);
    expect(edits).toEqual([set(["sites", 0, "findings", "hair casts"], "many")]);
  });

  it("are never put at another place: a place that is gone is told, and can be put back whole", () => {
    const other = { ...base, sites: [occipital] };
    const { edits, clashes } = rebase(base, other, [set(["sites", 1, "findings", "hair casts"], "many")]);
    expect(edits).toEqual([]);
    expect(clashes.map(({ path, there }) => [path, there])).toEqual([[["sites", 1], null]]);
    expect(clashes[0]?.keep).toEqual([
      {
        do: "set",
        path: ["sites", 1],
        value: { site: "left parietal", notes: "soft", findings: { "hair casts": "many" } },
      },
    ]);
  });

  it("meet where both wrote, and nowhere else", () => {
    const other = {
      ...base,
      plan: [
        { action: "A", who: "patient" },
        { action: "B", who: "clinic" },
      ],
    };
    const { edits, clashes } = rebase(base, other, [
      set(["plan", 0, "when"], "soon"),
      set(["plan", 0, "who"], "school"),
      set(["plan", 1, "action"], "C"),
    ]);
    expect(edits).toEqual([set(["plan", 0, "when"], "soon"), set(["plan", 2, "action"], "C")]);
    expect(clashes.map(({ path, mine, theirs }) => [path.join("."), mine, theirs])).toEqual([
      ["plan.0.who", "school", "patient"],
    ]);
  });

  it("of two places alike, of which one is gone, belong to neither", () => {
    const twice = { sites: [{ site: "vertex" }, { site: "vertex" }] };
    const { edits, clashes } = rebase(twice, { sites: [{ site: "vertex" }] }, [
      set(["sites", 1, "notes"], "x"),
    ]);
    expect(edits).toEqual([]);
    expect(clashes).toHaveLength(1);
  });

  it("all stand on the text they were made on", () => {
    const step = fc.constantFrom<(string | number)[]>(
      ["sites", 0, "notes"],
      ["sites", 1, "findings", "a"],
      ["sites", 2, "site"],
      ["plan", 0, "who"],
      ["plan", 1, "action"],
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(step, fc.string({ minLength: 1, maxLength: 4 })), { maxLength: 5 }),
        (made) => {
          const edits = made.map(([path, value]) => set(path, value));
          const found = rebase(base, base, edits);
          expect(found.clashes).toEqual([]);
          expect(apply(base, found.edits)).toEqual(apply(base, edits));
        },
      ),
    );
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
