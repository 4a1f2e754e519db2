/** What is known at one site, as if it alone had been examined, and what a condition that holds names as its grounds. */
import { describe, expect, it } from "vitest";
import { holds } from "../../src/interpret/conditions.js";
import { factsAt, factsOf } from "../../src/interpret/facts.js";
import { groundsOf } from "../../src/interpret/grounds.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Measured } from "../../src/measure/types.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, site, type VisitParts, visitWith } from "./visits.js";

const shipped = loadKnowledge().facts["greasy-scale"];
if (!shipped) throw new Error("no fact to begin with");
const saltSkin = { ...shipped, id: "salt-skin", term: "salt skin", also: [], written: ["salt skin"] };
const knowledge: Knowledge = { ...smallKnowledge(), facts: { "salt-skin": saltSkin } };

const measured = (id: string, at?: Measured["site"]): Measured => ({
  id,
  term: id,
  ...(at ? { site: at } : {}),
  value: 1,
  unit: "",
  ucum: "1",
  places: 0,
  source: "x",
  fromMemory: false,
});
const whole = factsOf(
  visitWith({
    examination: { scalp: "Salt skin." },
    sites: [
      { ...site("vertex", { "tar-dots": "few" }), notes: "Salt skin here." },
      { ...site("occipital", { "tar-dots": "none", "pale-rings": "many" }), notes: "Salt skin too." },
    ],
  }),
  {
    ...NO_MEASURES,
    measured: [measured("pull"), measured("density", "vertex"), measured("width", "occipital")],
  },
  knowledge,
);
const [vertex, occipital] = whole.visit.sites;
if (!vertex || !occipital) throw new Error("two sites");

describe("at one site", () => {
  it("count its own measures and those of the visit as a whole", () => {
    const ids = (at: typeof vertex) => factsAt(whole, at).measures.measured.map(({ id }) => id);
    expect(ids(vertex)).toEqual(["pull", "density"]);
    expect(ids(occipital)).toEqual(["pull", "width"]);
  });

  it("stands that site alone, first", () => {
    const at = factsAt(whole, occipital);
    expect(at.visit.sites).toEqual([occipital]);
    expect(at.seen.map((seen) => [...seen.keys()])).toEqual([["tar-dots", "pale-rings"]]);
  });

  it("are read its own notes and what is told of the visit as a whole", () => {
    const places = (at: typeof vertex) =>
      factsAt(whole, at)
        .reads()
        .map(({ where, words }) => [where, words.toLowerCase()]);
    const own = [
      ["examination.scalp", "salt skin"],
      ["sites[0].notes", "salt skin"],
    ];
    expect(places(vertex).toSorted()).toEqual(own);
    expect(places(occipital).toSorted()).toEqual(own);
    expect(
      whole
        .reads()
        .map(({ where }) => where)
        .toSorted(),
    ).toEqual(["examination.scalp", "sites[0].notes", "sites[1].notes"]);
  });
});

describe("a fact", () => {
  const facts = (parts: VisitParts) => factsOf(visitWith(parts), NO_MEASURES, knowledge);
  const scalp = "Salt skin.";
  const signs = (yes: boolean) => ({ examination: { scalp, signs: { "salt-skin": yes } } });

  it("holds by words only where nothing is recorded of it", () => {
    const fact = { fact: "salt-skin" } as const;
    expect(holds(fact, facts({ examination: { scalp } }))).toBe(true);
    expect(holds(fact, facts(signs(true)))).toBe(true);
    expect(holds(fact, facts(signs(false)))).toBe(false);
    expect(holds(fact, facts({}))).toBe(false);
  });

  it("recorded as absent is one that was answered with no", () => {
    const no = { fact: "salt-skin", state: "no" } as const;
    expect(holds(no, facts(signs(false)))).toBe(true);
    expect(holds(no, facts(signs(true)))).toBe(false);
    expect(holds(no, facts({ examination: { scalp } }))).toBe(false);
  });

  it("may be asked for by answer or by words alone", () => {
    const by = (how: "answer" | "words") => ({ fact: "salt-skin", by: how }) as const;
    expect([by("answer"), by("words")].map((c) => holds(c, facts(signs(true))))).toEqual([true, false]);
    expect([by("answer"), by("words")].map((c) => holds(c, facts({ examination: { scalp } })))).toEqual([
      false,
      true,
    ]);
  });
});

describe("the grounds of a condition", () => {
  const says = (c: Parameters<typeof groundsOf>[0]) =>
    groundsOf(c, whole).map((g) => `${g.kind}: ${g.says}${"where" in g && g.where ? ` (${g.where})` : ""}`);

  it("are those of the parts that hold, and of no others", () => {
    const rings = says({ finding: "pale-rings" });
    expect(rings).toHaveLength(1);
    expect(says({ any: [{ finding: "knot-gaps" }, { finding: "pale-rings" }] })).toEqual(rings);
    expect(says({ any: [{ finding: "pale-rings" }, { finding: "pale-rings" }] })).toEqual(rings);
    expect(says({ all: [{ finding: "pale-rings" }, { not: { finding: "knot-gaps" } }] })).toEqual(rings);
    expect(says({ any: [{ finding: "knot-gaps" }] })).toEqual([]);
  });
});
