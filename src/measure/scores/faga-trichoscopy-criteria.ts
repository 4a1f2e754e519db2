/** Trichoscopic criteria for androgenetic alopecia in women, from counted fields and measured diameters in front and behind. */
import { z } from "zod";
import { regionCounts } from "../front-and-back.js";
import type { CriterionResult } from "../measures.js";
import type { ScoreModule } from "../score.js";
import { majorsAndMinors } from "../three-valued.js";

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
});
type Table = z.infer<typeof table>;

/** Every input is null when it was not recorded in the form the rule asks for; `lacks` says why. */
interface Inputs {
  readonly applies: boolean;
  readonly yellow_dots: number | null;
  /** Fields over which they were counted. */
  readonly yellow_fields: number;
  readonly mean_um: { readonly frontal: number; readonly occipital: number } | null;
  readonly thin_percent: number | null;
  readonly single_ratio: number | null;
  readonly vellus_ratio: number | null;
  readonly discoloured_ratio: number | null;
}

const NOTHING: Inputs = {
  applies: true,
  yellow_dots: null,
  yellow_fields: 0,
  mean_um: null,
  thin_percent: null,
  single_ratio: null,
  vellus_ratio: null,
  discoloured_ratio: null,
};
/** Ratios of 1 and no dots: nothing met beyond what an example adds. */
const EVEN: Inputs = {
  ...NOTHING,
  yellow_dots: 0,
  yellow_fields: 4,
  single_ratio: 1,
  vellus_ratio: 1,
  discoloured_ratio: 1,
};

export const fagaTrichoscopyCriteria = {
  id: "faga-trichoscopy-criteria",
  table,
  take(visit, t) {
    const front = regionCounts(visit, "frontal");
    const back = regionCounts(visit, "occipital");
    if (Object.values(front).every((v) => v === undefined) || visit.patient.sex === "male") return [];
    const enough = (n: number | undefined) => n !== undefined && n >= t.least_hairs;
    const means =
      front.diameters && back.diameters && enough(front.diameters.n) && enough(back.diameters.n)
        ? { frontal: front.diameters.mean, occipital: back.diameters.mean }
        : null;
    // Whichever rests on more hairs, so that a handful of measured shafts never outweighs counted fields.
    const measured = enough(front.thinByDiameter?.of) ? front.thinByDiameter : undefined;
    const thin = measured && measured.of > (front.thin?.of ?? 0) ? measured : front.thin;
    const perField = (
      a: { count: number; fields: number } | undefined,
      b: { count: number; fields: number } | undefined,
    ) => (a && b && b.count > 0 ? a.count / a.fields / (b.count / b.fields) : null);
    const [f, o] = [front.singleUnits, back.singleUnits];
    return [
      {
        inputs: {
          applies: visit.patient.sex === t.applies_to,
          yellow_dots:
            visit.scope.magnification === t.magnification ? (front.yellowDots?.count ?? null) : null,
          yellow_fields: front.yellowDots?.fields ?? 0,
          mean_um: means,
          thin_percent: thin ? (100 * thin.part) / thin.of : null,
          single_ratio: f && o && o.part > 0 ? f.part / f.of / (o.part / o.of) : null,
          vellus_ratio: perField(front.vellus, back.vellus),
          discoloured_ratio: perField(front.discoloured, back.discoloured),
        },
      },
    ];
  },
  work(i, t) {
    const criteria = i.applies ? judge(i, t) : judge({ ...NOTHING, applies: false }, t);
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
        yellow_dots: 5,
        yellow_fields: 4,
        mean_um: { frontal: 47, occipital: 52 },
        thin_percent: 20.9,
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
      inputs: { ...EVEN, mean_um: { frontal: 61, occipital: 58 }, thin_percent: 6.15 },
      gives: { "rule:faga-trichoscopy-criteria": false, "faga-trichoscopy-criteria.thinner-frontal": false },
      from: "group means of healthy women, Rakowska et al. 2009",
    },
    {
      inputs: { ...EVEN, mean_um: { frontal: 56, occipital: 53 }, thin_percent: 10.4 },
      gives: {
        "rule:faga-trichoscopy-criteria": false,
        "faga-trichoscopy-criteria.thin-hairs-frontal": true,
      },
      from: "group means of chronic telogen effluvium, Rakowska et al. 2009: the thin-hair major is met",
    },
    {
      inputs: {
        ...EVEN,
        mean_um: { frontal: 55, occipital: 55 },
        thin_percent: 12,
        single_ratio: 2.5,
        vellus_ratio: 1.6,
        discoloured_ratio: null,
      },
      gives: { "rule:faga-trichoscopy-criteria": true },
      from: "arithmetic; one major and two minors",
    },
    {
      inputs: {
        applies: true,
        yellow_dots: 4,
        yellow_fields: 4,
        mean_um: { frontal: 55, occipital: 55 },
        thin_percent: 10,
        single_ratio: 2,
        vellus_ratio: 1.5,
        discoloured_ratio: 3,
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
      inputs: { ...NOTHING, thin_percent: 12 },
      gives: {
        "rule:faga-trichoscopy-criteria": null,
        "faga-trichoscopy-criteria.thinner-frontal": null,
      },
      from: "one major met and the rest unknown decides nothing",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;

function judge(i: Inputs, t: Table): readonly CriterionResult[] {
  const ratio = (id: string, what: string, value: number | null, above: number): CriterionResult => ({
    id,
    kind: "minor",
    says: `${what}, frontal to occipital above ${above}`,
    met: value === null ? null : value > above,
    worked:
      value === null
        ? "not assessable: counts of both sites, occipital not zero, are needed"
        : value.toFixed(2),
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
          : `${i.yellow_dots} over ${i.yellow_fields} fields`,
    },
    {
      id: "thinner-frontal",
      kind: "major",
      says: "mean shaft diameter smaller in front than behind",
      met: i.mean_um && i.mean_um.frontal < i.mean_um.occipital,
      worked: i.mean_um
        ? `${i.mean_um.frontal.toFixed(1)} against ${i.mean_um.occipital.toFixed(1)} µm`
        : `not assessable: at least ${t.least_hairs} measured shafts in front and behind are needed`,
    },
    {
      id: "thin-hairs-frontal",
      kind: "major",
      says: `more than ${t.thin_percent_above} % of frontal hairs thinner than 0.03 mm`,
      met: i.thin_percent === null ? null : i.thin_percent > t.thin_percent_above,
      worked:
        i.thin_percent === null
          ? "not assessable: thin and all hairs of frontal fields are needed"
          : `${i.thin_percent.toFixed(1)} %`,
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
  const above = yellow_dots > t.yellow_dots_above;
  if (above && yellow_fields <= t.yellow_dot_fields) return true;
  if (!above && yellow_fields >= t.yellow_dot_fields) return false;
  return null;
}
