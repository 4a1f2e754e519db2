/** Trichoscopic criteria for androgenetic alopecia in women, from counted fields and measured diameters in front and behind. */
import { z } from "zod";
import { fewFieldsCaveat, shareDraft } from "../drafts.js";
import {
  countRatio,
  type FieldCounts,
  ratioOfShares,
  regionCounts,
  type ShareCounts,
} from "../front-and-back.js";
import type { ScoreModule } from "../score-module.js";
import { rate } from "../statistics/counting.js";
import { welch } from "../statistics/means.js";
import { spreadOf, spreadSchema } from "../statistics/spread.js";
import { majorsAndMinors } from "../three-valued.js";
import type { CriterionResult } from "../types.js";

const table = z.object({
  applies_to: z.string(),
  yellow_dots_above: z.number(),
  yellow_dot_fields: z.number(),
  magnification: z.number(),
  least_hairs: z.number(),
  thin_percent_above: z.number(),
  single_ratio_above: z.number(),
  vellus_ratio_above: z.number(),
  discoloured_ratio_above: z.number(),
  limits: z.string(),
  spread: spreadSchema,
});
type Table = z.infer<typeof table>;

/** Every input is null when it was not recorded in the form the rule asks for. */
interface Inputs {
  readonly applies: boolean;
  readonly yellow_dots: Estimate | null;
  /** Fields over which they were counted. */
  readonly yellow_fields: number;
  readonly mean_um: { readonly frontal: number; readonly occipital: number } | null;
  /** Frontal less occipital, in µm. */
  readonly difference_um: Estimate | null;
  readonly thin_percent: Estimate | null;
  readonly single_ratio: Estimate | null;
  readonly vellus_ratio: Estimate | null;
  readonly discoloured_ratio: Estimate | null;
}

/** A value with its 95 percent limits; without them it stands for itself, as a published mean does. */
interface Estimate {
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  /** What must be said of the limits. */
  readonly caveat?: string;
}

/** Above the limit with all of the interval, not above it with any, or too little counted to tell. */
function above({ value, low = value, high = value }: Estimate, limit: number): boolean | null {
  return low > limit ? true : high <= limit ? false : null;
}

const exact = (value: number): Estimate => ({ value });
const written = ({ value, low, high, caveat }: Estimate, places: number, unit = "") =>
  `${value.toFixed(places)}${unit}${low === undefined || high === undefined ? "" : ` (${low.toFixed(places)} to ${Number.isFinite(high) ? high.toFixed(places) : "no upper limit"})`}${caveat ? " by these fields alone" : ""}`;

const NOTHING: Inputs = {
  applies: true,
  yellow_dots: null,
  yellow_fields: 0,
  mean_um: null,
  difference_um: null,
  thin_percent: null,
  single_ratio: null,
  vellus_ratio: null,
  discoloured_ratio: null,
};
/** Ratios of 1 and no dots: nothing met beyond what an example adds. */
const EVEN: Inputs = {
  ...NOTHING,
  yellow_dots: exact(0),
  yellow_fields: 4,
  single_ratio: exact(1),
  vellus_ratio: exact(1),
  discoloured_ratio: exact(1),
};
/** Group means of shaft diameter in front and behind. */
const means = (frontal: number, occipital: number) => ({
  mean_um: { frontal, occipital },
  difference_um: exact(frontal - occipital),
});

export const fagaTrichoscopyCriteria = {
  id: "faga-trichoscopy-criteria",
  table,
  collect(visit, t) {
    const front = regionCounts(visit, "frontal");
    const back = regionCounts(visit, "occipital");
    if (Object.values(front).every((v) => v === undefined) || visit.patient.sex === "male") return [];
    const enough = (n: number | undefined) => n !== undefined && n >= t.least_hairs;
    const [a, b] = [front.diameters, back.diameters];
    const measurable = a && b && enough(a.n) && enough(b.n) ? { a, b } : undefined;
    const difference = measurable && welch(measurable.b, measurable.a);
    // Whichever rests on more hairs, so that a handful of measured shafts never outweighs counted fields.
    const measured: ShareCounts | undefined = enough(front.thinByDiameter?.of)
      ? front.thinByDiameter
      : undefined;
    const thin = measured && measured.of > (front.thin?.of ?? 0) ? measured : front.thin;
    const perField = (x: FieldCounts | undefined, y: FieldCounts | undefined): Estimate | null => {
      const ratio = x && y && countRatio(x, y, t.spread);
      return ratio ? { ...ratio, ...fewFieldsCaveat(x.each, y.each) } : null;
    };
    const dots = front.yellowDots;
    const [f, o] = [front.singleUnits, back.singleUnits];
    return [
      {
        inputs: {
          applies: visit.patient.sex === t.applies_to,
          yellow_dots:
            visit.scope.magnification === t.magnification && dots
              ? rate(dots.count, 1, spreadOf([dots.each ?? []], t.spread).times)
              : null,
          yellow_fields: dots?.fields ?? 0,
          mean_um: measurable ? { frontal: measurable.a.mean, occipital: measurable.b.mean } : null,
          // Shafts that do not vary at all have no limits; their means stand for themselves.
          difference_um: difference
            ? { value: difference.difference, low: difference.low, high: difference.high }
            : measurable
              ? exact(measurable.a.mean - measurable.b.mean)
              : null,
          thin_percent: thin ? shareDraft(thin.part, thin.of, thin.each) : null,
          single_ratio: (f && o && ratioOfShares(f, o, "")) ?? null,
          vellus_ratio: perField(front.vellus, back.vellus),
          discoloured_ratio: perField(front.discoloured, back.discoloured),
        },
      },
    ];
  },
  compute(i, t) {
    const criteria = i.applies ? verdictOf(i, t) : verdictOf({ ...NOTHING, applies: false }, t);
    const { met, majors, minors } = majorsAndMinors(
      criteria,
      (major, minor) => major >= 2 || (major >= 1 && minor >= 2),
    );
    const open = criteria.filter((c) => c.met === null).length;
    return {
      rules: [
        {
          met: i.applies ? met : null,
          criteria,
          says: i.applies
            ? `${majors} of 3 major and ${minors} of 3 minor criteria met${open > 0 ? `, ${open} not assessable` : ""}.`
            : "Not worked: the criteria were derived in women.",
          limits: t.limits,
        },
      ],
    };
  },
  examples: [
    {
      inputs: {
        ...NOTHING,
        yellow_dots: exact(5),
        yellow_fields: 4,
        ...means(47, 52),
        thin_percent: exact(20.9),
      },
      gives: {
        "rule:faga-trichoscopy-criteria": true,
        "faga-trichoscopy-criteria.yellow-dots-frontal": true,
        "faga-trichoscopy-criteria.thinner-frontal": true,
        "faga-trichoscopy-criteria.thin-hairs-frontal": true,
      },
      from: "group means of androgenetic alopecia, Rakowska et al. 2009",
    },
    {
      inputs: { ...EVEN, ...means(61, 58), thin_percent: exact(6.15) },
      gives: { "rule:faga-trichoscopy-criteria": false, "faga-trichoscopy-criteria.thinner-frontal": false },
      from: "group means of healthy women, Rakowska et al. 2009",
    },
    {
      inputs: { ...EVEN, ...means(56, 53), thin_percent: exact(10.4) },
      gives: {
        "rule:faga-trichoscopy-criteria": false,
        "faga-trichoscopy-criteria.thin-hairs-frontal": true,
      },
      from: "group means of chronic telogen effluvium, Rakowska et al. 2009: the thin-hair major is met",
    },
    {
      inputs: {
        ...EVEN,
        ...means(55, 55),
        thin_percent: exact(12),
        single_ratio: exact(2.5),
        vellus_ratio: exact(1.6),
        discoloured_ratio: null,
      },
      gives: { "rule:faga-trichoscopy-criteria": true },
      from: "arithmetic; one major and two minors",
    },
    {
      inputs: {
        applies: true,
        yellow_dots: exact(4),
        yellow_fields: 4,
        ...means(55, 55),
        thin_percent: exact(10),
        single_ratio: exact(2),
        vellus_ratio: exact(1.5),
        discoloured_ratio: exact(3),
      },
      gives: {
        "rule:faga-trichoscopy-criteria": false,
        "faga-trichoscopy-criteria.yellow-dots-frontal": false,
        "faga-trichoscopy-criteria.single-hair-units": false,
        "faga-trichoscopy-criteria.vellus-hairs": false,
        "faga-trichoscopy-criteria.perifollicular-discoloration": false,
      },
      from: "arithmetic; every value on its limit, all comparisons strict",
    },
    {
      inputs: { ...NOTHING, thin_percent: exact(12) },
      gives: {
        "rule:faga-trichoscopy-criteria": null,
        "faga-trichoscopy-criteria.thinner-frontal": null,
      },
      from: "one major met and the rest unknown decides nothing",
    },
    {
      inputs: {
        ...EVEN,
        mean_um: { frontal: 54, occipital: 55 },
        difference_um: { value: -1, low: -4, high: 2 },
        thin_percent: { value: 12, low: 7, high: 19 },
      },
      gives: {
        "rule:faga-trichoscopy-criteria": null,
        "faga-trichoscopy-criteria.thinner-frontal": null,
        "faga-trichoscopy-criteria.thin-hairs-frontal": null,
      },
      from: "arithmetic; both majors beyond their limits by no more than chance",
    },
    {
      inputs: {
        ...EVEN,
        mean_um: { frontal: 48, occipital: 55 },
        difference_um: { value: -7, low: -10, high: -4 },
        thin_percent: { value: 18, low: 12, high: 26 },
      },
      gives: {
        "rule:faga-trichoscopy-criteria": true,
        "faga-trichoscopy-criteria.thinner-frontal": true,
        "faga-trichoscopy-criteria.thin-hairs-frontal": true,
      },
      from: "arithmetic; both majors beyond their limits with all of their intervals",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;

function verdictOf(i: Inputs, t: Table): readonly CriterionResult[] {
  const ratio = (id: string, what: string, estimate: Estimate | null, limit: number): CriterionResult => ({
    id,
    kind: "minor",
    says: `${what}, frontal to occipital above ${limit}`,
    met: estimate && above(estimate, limit),
    worked: estimate
      ? written(estimate, 2)
      : "not assessable: counts of both sites, occipital not zero, are needed",
  });
  return [
    {
      id: "yellow-dots-frontal",
      kind: "major",
      says: `more than ${t.yellow_dots_above} yellow dots over ${t.yellow_dot_fields} frontal fields at ${t.magnification}-fold`,
      met: dotsMet(i, t),
      worked:
        i.yellow_dots === null
          ? `not assessable: dots of frontal fields at ${t.magnification}-fold are needed`
          : `${written(i.yellow_dots, 0)} over ${i.yellow_fields} fields`,
    },
    {
      id: "thinner-frontal",
      kind: "major",
      says: "mean shaft diameter smaller in front than behind",
      met: i.difference_um && thinner(i.difference_um),
      worked: i.mean_um
        ? `${i.mean_um.frontal.toFixed(1)} against ${i.mean_um.occipital.toFixed(1)} µm${i.difference_um ? `, difference ${written(i.difference_um, 1)}` : ""}`
        : `not assessable: at least ${t.least_hairs} measured shafts in front and behind are needed`,
    },
    {
      id: "thin-hairs-frontal",
      kind: "major",
      says: `more than ${t.thin_percent_above} % of frontal hairs thinner than 0.03 mm`,
      met: i.thin_percent && above(i.thin_percent, t.thin_percent_above),
      worked:
        i.thin_percent === null
          ? "not assessable: thin and all hairs of frontal fields are needed"
          : written(i.thin_percent, 1, " %"),
    },
    ratio("single-hair-units", "share of single-hair units", i.single_ratio, t.single_ratio_above),
    ratio("vellus-hairs", "vellus hairs", i.vellus_ratio, t.vellus_ratio_above),
    ratio(
      "perifollicular-discoloration",
      "openings with discoloration",
      i.discoloured_ratio,
      t.discoloured_ratio_above,
    ),
  ];
}

/** Fewer fields can already exceed the limit, and more fields can already fail to; anything else is open. */
function dotsMet({ yellow_dots, yellow_fields }: Inputs, t: Table): boolean | null {
  if (yellow_dots === null) return null;
  const met = above(yellow_dots, t.yellow_dots_above);
  if (met === true && yellow_fields <= t.yellow_dot_fields) return true;
  if (met === false && yellow_fields >= t.yellow_dot_fields) return false;
  return null;
}

/** Smaller in front: all of the interval of the difference below 0. */
function thinner({ value, low = value, high = value }: Estimate): boolean | null {
  return high < 0 ? true : low >= 0 ? false : null;
}
