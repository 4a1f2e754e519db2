/** What trichoscopists agree on (common practice), asked of the shipped knowledge. */
import { describe, expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import { BANDS, type Interpretation } from "../../src/interpret/interpretation.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import type { Visit } from "../../src/visit/visit.js";
import { site, visitWith } from "./visits.js";

const knowledge = loadKnowledge();
const read = (visit: Visit) => interpret(visit, measure(visit, knowledge), knowledge);
const view = (i: Interpretation, id: string) => {
  const found = i.disorders.find((d) => d.id === id);
  if (!found) throw new Error(`no disorder ${id}`);
  return found;
};
const bandOf = (i: Interpretation, id: string) => view(i, id).band;
const atLeast = (i: Interpretation, id: string, band: (typeof BANDS)[number]) =>
  BANDS.indexOf(bandOf(i, id)) <= BANDS.indexOf(band);
const weight = (i: Interpretation, id: string, reason: string) =>
  [...view(i, id).for, ...view(i, id).against]
    .filter((r) => r.id === reason)
    .reduce((sum, r) => sum + r.weight, 0);
const leading = (i: Interpretation) => i.disorders[0]?.id;
const activity = (i: Interpretation, id: string) => i.activity.find((a) => a.disorder === id);
const notesOf = (id: string) => (knowledge.findings[id]?.notes ?? []).map((n) => n.says).join(" ");

const child = { born: "2019-03-02", sex: "male" } as const;

describe("shafts", () => {
  it("differ from one another on a normal scalp: a few uneven shafts alone support nothing", () => {
    const i = read(visitWith({ sites: [site("vertex", { "diameter-variability": "single" })] }));
    expect(i.disorders.filter((d) => ["strongly supported", "supported"].includes(d.band))).toEqual([]);
    expect(i.mustNotMiss).toEqual([]);
    const { what = "", notes = [] } = knowledge.findings["diameter-variability"] ?? {};
    expect([what, ...notes.map((n) => n.says)].join(" ")).toMatch(/normal/iu);
  });
});

describe("exclamation mark hairs", () => {
  it("mark active alopecia areata, and many make it nearly certain", () => {
    const i = read(
      visitWith({
        sites: [site("left parietal", { "exclamation-mark-hairs": "many", "black-dots": "several" })],
      }),
    );
    expect(leading(i)).toBe("alopecia-areata");
    expect(bandOf(i, "alopecia-areata")).toBe("strongly supported");
    expect(activity(i, "alopecia-areata")?.state).toBe("active");
    expect(activity(i, "alopecia-areata")?.markers).toContain("exclamation-mark-hairs");
  });

  it("are sought at the hair-bearing margin, and must be 3-4 mm long to be seen by eye", () => {
    const finding = knowledge.findings["exclamation-mark-hairs"];
    expect(finding?.look).toMatch(/margin|edge/iu);
    expect(`${finding?.what} ${notesOf("exclamation-mark-hairs")}`).toMatch(/3(-| to )4 mm/u);
  });

  it("do not exclude hair pulling", () => {
    const i = read(
      visitWith({
        sites: [
          site("vertex", {
            "exclamation-mark-hairs": "few",
            "coiled-hairs": "several",
            "flame-hairs": "several",
            "broken-hairs": "many",
          }),
        ],
      }),
    );
    expect(leading(i)).toBe("trichotillomania");
    expect(atLeast(i, "trichotillomania", "supported")).toBe(true);
  });

  it("do not exclude loss from chemotherapy", () => {
    const i = read(
      visitWith({
        history: {
          medicines: [{ name: "cyclophosphamide" }, { name: "doxorubicin" }],
          onset: "sudden",
          durationWeeks: 3,
        },
        sites: [site("whole scalp", { "exclamation-mark-hairs": "few", "black-dots": "many" })],
      }),
    );
    expect(leading(i)).toBe("anagen-effluvium");
  });
});

describe("fates of an exclamation mark hair", () => {
  it("constrictions speak for a fluctuating or recovering course", () => {
    const i = read(
      visitWith({
        sites: [
          site("occipital", {
            "shaft-constrictions": "several",
            "yellow-dots": "several",
            "exclamation-mark-hairs": "none",
          }),
        ],
        impression: [{ disorder: "alopecia-areata", certainty: "probable" }],
      }),
    );
    const a = activity(i, "alopecia-areata");
    expect(a?.markers).toContain("shaft-constrictions");
    expect(["recovering", "mixed"]).toContain(a?.state);
    expect(a?.says.join(" ")).toMatch(/fluctuat|recover|on and off/iu);
  });

  it("a broken one leaves a black dot and a grown one a tapered hair: all three are one process", () => {
    const groups = ["exclamation-mark-hairs", "black-dots", "tapered-hairs"].map(
      (id) => knowledge.findings[id]?.mechanism,
    );
    expect(new Set(groups).size).toBe(1);
  });
});

describe("thin hairs", () => {
  it("beside thick ones speak for androgenetic alopecia", () => {
    const i = read(
      visitWith({
        sites: [
          site("frontal", {
            "diameter-variability": "many",
            "thin-hairs": "many",
            "single-hair-units": "many",
          }),
        ],
      }),
    );
    expect(leading(i)).toBe("androgenetic-alopecia");
    expect(atLeast(i, "androgenetic-alopecia", "supported")).toBe(true);
  });

  it("all together speak for long-lasting telogen effluvium, for example with anaemia", () => {
    const i = read(
      visitWith({
        history: { durationWeeks: 40, shedding: "increased", past: ["iron deficiency anaemia"] },
        sites: [
          site("whole scalp", {
            "thin-hairs": "throughout",
            "diameter-variability": "none",
            "reduced-density": "several",
          }),
        ],
      }),
    );
    expect(["telogen-effluvium", "chronic-telogen-effluvium"]).toContain(leading(i));
    const best = Math.max(view(i, "telogen-effluvium").score, view(i, "chronic-telogen-effluvium").score);
    expect(best).toBeGreaterThan(view(i, "androgenetic-alopecia").score + 1);
  });
});

describe("comma and corkscrew hairs", () => {
  it("a single comma hair is not enough to suspect tinea capitis", () => {
    const i = read(visitWith({ sites: [site("vertex", { "comma-hairs": "single" })] }));
    expect(atLeast(i, "tinea-capitis", "supported")).toBe(false);
  });

  it("a field full of them is enough for an initial diagnosis, and culture is always taken", () => {
    const full = visitWith({ patient: child, sites: [site("vertex", { "comma-hairs": "throughout" })] });
    const i = read(full);
    expect(bandOf(i, "tinea-capitis")).toBe("strongly supported");
    expect(i.mustNotMiss).toContainEqual(
      expect.objectContaining({ id: "fungal-infection", answeredByPlan: false }),
    );
    const planned = read({
      ...full,
      plan: [
        { who: "clinic", action: "Hair and scale for microscopy and culture", answers: ["fungal-infection"] },
      ],
    });
    expect(planned.mustNotMiss).toContainEqual(
      expect.objectContaining({ id: "fungal-infection", answeredByPlan: true }),
    );
    const steps = knowledge.disorders["tinea-capitis"]?.next.map((n) => `${n.step} ${n.why}`).join(" ");
    expect(steps).toMatch(/culture/iu);
  });

  it("corkscrew hairs are seen chiefly in dark skin phototypes", () => {
    expect(`${knowledge.findings["corkscrew-hairs"]?.what} ${notesOf("corkscrew-hairs")}`).toMatch(/dark/iu);
    const corkscrews = (phototype: "II" | "VI") =>
      read(
        visitWith({
          patient: { ...child, phototype },
          sites: [site("vertex", { "corkscrew-hairs": "several" })],
        }),
      );
    expect(leading(corkscrews("VI"))).toBe("tinea-capitis");
    expect(leading(corkscrews("II"))).toBe("tinea-capitis");
  });

  it("missing them in an inflamed scalp proves nothing", () => {
    const scalp = (findings: Record<string, "many" | "none">) =>
      weight(
        read(visitWith({ patient: child, sites: [site("vertex", { "comma-hairs": "none", ...findings })] })),
        "tinea-capitis",
        "comma-hairs",
      );
    expect(scalp({})).toBeLessThan(-0.2);
    expect(Math.abs(scalp({ "follicular-pustules": "many" }))).toBeLessThan(0.2);
  });
});

describe("coiled and flame hairs", () => {
  it("one coiled hair does not make trichotillomania", () => {
    const i = read(visitWith({ sites: [site("vertex", { "coiled-hairs": "single" })] }));
    expect(atLeast(i, "trichotillomania", "supported")).toBe(false);
  });

  it.each(["coiled-hairs", "flame-hairs"])(
    "several %s with multiple broken hairs make it nearly certain",
    (id) => {
      const i = read(visitWith({ sites: [site("vertex", { [id]: "several", "broken-hairs": "many" })] }));
      expect(leading(i)).toBe("trichotillomania");
      expect(bandOf(i, "trichotillomania")).toBe("strongly supported");
    },
  );
});

describe("yellow dots", () => {
  it("filling the field without shaft remnants speak for long-standing alopecia areata", () => {
    const i = read(
      visitWith({
        sites: [
          site("occipital", {
            "yellow-dots": "throughout",
            "black-dots": "none",
            "broken-hairs": "none",
            "exclamation-mark-hairs": "none",
          }),
        ],
        impression: [{ disorder: "alopecia-areata", certainty: "probable" }],
      }),
    );
    expect(leading(i)).toBe("alopecia-areata");
    expect(activity(i, "alopecia-areata")?.state).toBe("long-standing");
  });

  it("alone and few weigh little, since observers differ so much", () => {
    const i = read(visitWith({ sites: [site("frontal", { "yellow-dots": "few" })] }));
    const thought = i.disorders.filter((d) => d.band !== "unlikely");
    for (const d of thought) expect(Math.abs(weight(i, d.id, "yellow-dots"))).toBeLessThan(1.2);
    expect(thought.length).toBeGreaterThan(1);
    expect(i.disorders.filter((d) => d.band === "strongly supported")).toEqual([]);
  });

  it("are empty follicles, and a remnant in the opening looks black", () => {
    const { what = "", notes = [] } = knowledge.findings["yellow-dots"] ?? {};
    expect([what, ...notes.map((n) => n.says)].join(" ")).toMatch(/sebum/iu);
    const black = knowledge.findings["black-dots"];
    expect(`${black?.what} ${notesOf("black-dots")}`).toMatch(/remnant|stub|broken/iu);
  });
});

describe("black dots", () => {
  const dots = read(visitWith({ sites: [site("vertex", { "black-dots": "several" })] }));

  it.each(["alopecia-areata", "anagen-effluvium", "tinea-capitis"])("arise in %s", (id) => {
    expect(weight(dots, id, "black-dots")).toBeGreaterThan(0);
  });

  it("do not exclude lichen planopilaris, though rare there", () => {
    const lpp = {
      "perifollicular-scale": "many",
      "loss-of-openings": "several",
      "hair-casts": "several",
    } as const;
    const i = read(visitWith({ sites: [site("vertex", { ...lpp, "black-dots": "few" })] }));
    expect(leading(i)).toBe("lichen-planopilaris");
    expect(weight(i, "lichen-planopilaris", "black-dots")).toBeGreaterThan(-1);
  });
});

describe("scarring", () => {
  it.each(["loss-of-openings", "tufted-hairs", "blue-grey-dots"])(
    "is never called unlikely with %s",
    (id) => {
      const i = read(
        visitWith({
          sites: [site("vertex", { [id]: "few", "exclamation-mark-hairs": "many", "yellow-dots": "many" })],
        }),
      );
      const scarring = i.disorders.filter((d) => knowledge.disorders[d.id]?.family === "scarring");
      expect(scarring.some((d) => ["possible", "supported", "strongly supported"].includes(d.band))).toBe(
        true,
      );
      expect(i.mustNotMiss.map((m) => m.id)).toContain("scarring");
    },
  );
});

describe("a clean case", () => {
  it("of pattern loss raises nothing that must not be missed", () => {
    const i = read(
      visitWith({
        patient: { born: "1997-06-01", sex: "male" },
        history: { onset: "gradual", durationWeeks: 150, family: ["father bald at 30"] },
        sites: [
          site("vertex", {
            "diameter-variability": "many",
            "vellus-hairs": "several",
            "single-hair-units": "several",
            "loss-of-openings": "none",
          }),
        ],
      }),
    );
    expect(leading(i)).toBe("androgenetic-alopecia");
    expect(i.mustNotMiss).toEqual([]);
  });
});

describe("what the disease was wrongly taken for", () => {
  const scaly = (notes: string) =>
    read(
      visitWith({
        history: { notes },
        sites: [site("vertex", { "broken-hairs": "several", "diffuse-scale": "several" })],
      }),
    );

  it("is no evidence for it", () => {
    expect(weight(scaly("Treated as psoriasis for a year."), "scalp-psoriasis", "psoriasis-elsewhere")).toBe(
      0,
    );
    expect(weight(scaly("Psoriasis since youth."), "scalp-psoriasis", "psoriasis-elsewhere")).toBeGreaterThan(
      1,
    );
  });
});

describe("shedding", () => {
  const shed = (durationWeeks: number) =>
    read(
      visitWith({
        history: { durationWeeks, shedding: "increased" },
        sites: [
          site("whole scalp", { "upright-regrowing-hairs": "several", "diameter-variability": "none" }),
        ],
      }),
    );

  it("is acute in its first months and chronic after a year", () => {
    expect(leading(shed(9))).toBe("telogen-effluvium");
    expect(leading(shed(87))).toBe("chronic-telogen-effluvium");
  });
});

describe("signs that one disease alone leaves", () => {
  it("count where nothing else is recorded", () => {
    const eggs = read(visitWith({ sites: [site("nape", { "nits-empty": "few" })] }));
    expect(leading(eggs)).toBe("pediculosis");
    const halos = read(
      visitWith({
        patient: { phototype: "VI" },
        sites: [site("vertex", { "peripilar-white-halo": "several", "loss-of-openings": "few" })],
      }),
    );
    expect(leading(halos)).toBe("central-centrifugal-cicatricial-alopecia");
  });

  it("a lone tuft is not among them", () => {
    const lone = read(visitWith({ sites: [site("vertex", { "tufted-hairs": "single" })] }));
    expect(weight(lone, "folliculitis-decalvans", "one-tuft-alone")).toBeLessThan(0);
    const few = read(visitWith({ sites: [site("vertex", { "tufted-hairs": "few" })] }));
    expect(weight(few, "folliculitis-decalvans", "one-tuft-alone")).toBe(0);
  });
});

describe("syphilis", () => {
  const stubs = { "broken-hairs": "few" } as const;
  const patchy = (more: Record<string, "few" | "several">) =>
    read(
      visitWith({
        history: { notes: "Small areas of loss." },
        sites: [site("left temporal", { ...stubs, ...more }), site("occipital", stubs)],
      }),
    ).mustNotMiss.map((m) => m.id);

  it("stays open in patchy loss of an adult with stubs and nothing that names another cause", () => {
    expect(patchy({})).toContain("syphilis");
    expect(patchy({ "exclamation-mark-hairs": "several" })).not.toContain("syphilis");
  });
});
