/** Slips between answers to one question asked twice: scope, pull test, symptoms, course and the inputs of scores. */
import type { Visit } from "../../visit/visit.js";
import { recordedInputs } from "../score-module.js";
import type { Measures } from "../types.js";
import type { Check, Slip } from "./slip.js";

/** Image width in mm that a field and a magnification imply; screens and eyepieces lie well between (common practice). */
const IMAGE_MM = [40, 1500] as const;

export const answerChecks: readonly Check[] = [
  fieldAndMagnification,
  pullAndShedding,
  activityIndex,
  scoreInputs,
];

function fieldAndMagnification({ scope }: Visit): readonly Slip[] {
  const { fieldDiameterMm: field, magnification } = scope;
  if (field === undefined || magnification === undefined) return [];
  const image = field * magnification;
  if (image >= IMAGE_MM[0] && image <= IMAGE_MM[1]) return [];
  const message = `a field of ${field} mm at ${magnification}-fold would make an image ${image.toFixed(0)} mm wide`;
  return [
    { id: "field-against-magnification", severity: "warning", path: "scope.field_diameter_mm", message },
  ];
}

function pullAndShedding(visit: Visit, measures: Measures): readonly Slip[] {
  const positive = measures.rules.find((r) => r.id === "hair-pull-revised" && r.met);
  if (!positive || visit.history.shedding !== "none") return [];
  const message = `pull test positive at the ${positive.site}, shedding recorded as none`;
  return [{ id: "pull-against-shedding", severity: "note", path: "history.shedding", message }];
}

function activityIndex(visit: Visit): readonly Slip[] {
  const index = recordedInputs(visit, "lppai");
  if (!index) return [];
  const slips: Slip[] = [];
  for (const [item, symptom] of [
    ["pruritus", "itch"],
    ["pain", "pain"],
    ["burning", "burning"],
  ] as const) {
    const [points, rating] = [index[item], visit.history.symptoms[symptom]];
    if (points === undefined || rating === undefined) continue;
    if ((points === 0 && rating >= 5) || (points === 3 && rating <= 1))
      slips.push({
        id: "index-against-symptoms",
        severity: "warning",
        path: `scores.lppai.${item}`,
        message: `${item} ${points} of 3 in the activity index, ${symptom} ${rating} of 10 in the history`,
      });
  }
  const anagen = visit.pullTest.flatMap((p) => (p.anagen === undefined ? [] : [p.anagen]));
  const pulled = anagen.reduce((a, b) => a + b, 0);
  if (
    anagen.length > 0 &&
    ((index.pull_test === 1 && pulled === 0) || (index.pull_test === 0 && pulled >= 3))
  )
    slips.push({
      id: "index-against-pull",
      severity: "warning",
      path: "scores.lppai.pull_test",
      message: `pull test ${index.pull_test} in the activity index, ${pulled} anagen hairs came out`,
    });
  const { course } = visit.history;
  const spreading = index.spreading;
  if (
    (spreading === 0 && course === "spreading") ||
    (spreading === 2 && (course === "stable" || course === "improving"))
  )
    slips.push({
      id: "index-against-course",
      severity: "warning",
      path: "scores.lppai.spreading",
      message: `spreading ${spreading} of 2 in the activity index, course recorded as ${course}`,
    });
  return slips;
}

function scoreInputs(visit: Visit, measures: Measures): readonly Slip[] {
  const slips: Slip[] = [];
  const plucked = recordedInputs(visit, "trichogram");
  if (plucked) {
    const total = Object.values(plucked).reduce((a, b) => a + b, 0);
    if (total < 50 || total > 100)
      slips.push({
        id: "pluck-of-few",
        severity: "note",
        path: "scores.trichogram",
        message: `${total} hairs plucked; the test asks for 50 to 100`,
      });
  }
  const wash = recordedInputs(visit, "wash-test");
  if (wash?.short !== undefined && wash.total !== undefined && wash.short > wash.total)
    slips.push({
      id: "short-over-total",
      severity: "warning",
      path: "scores.wash_test.short",
      message: `${wash.short} short hairs among ${wash.total} shed`,
    });
  for (const id of ["refined-wash-test", "comb-test"]) {
    const days = Object.values(recordedInputs(visit, id) ?? {});
    const most = Math.max(...days);
    // A single hair one day and ten another is chance; thirty and three is not.
    if (days.length > 1 && most >= 20 && most >= 10 * Math.min(...days))
      slips.push({
        id: "day-stands-out",
        severity: "note",
        path: `scores.${id.replaceAll("-", "_")}`,
        message: `daily counts of ${days.join(", ")}`,
      });
  }
  const scale = recordedInputs(visit, "areata-scale");
  const pulls = measures.rules.filter((r) => r.id === "hair-pull-revised");
  if (scale?.pull_positive === 1 && pulls.length > 0 && pulls.every((r) => r.met === false))
    slips.push({
      id: "index-against-pull",
      severity: "warning",
      path: "scores.areata_scale.pull_positive",
      message: "pull test positive in the scale, but every recorded pull test is negative",
    });
  return slips;
}
