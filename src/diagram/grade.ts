/**
 * A grade of pattern hair loss as our own drawing: the head from above with hairs left out where the grade's words say
 * that hair has gone. How far each step reaches is ours to draw; no published figure is followed.
 */
import { seededDraws } from "../base/draws.js";
import { flatten, type Point } from "./curve.js";
import { HEAD } from "./head/head.js";
import { inside } from "./polygon.js";
import { curvePath, element, num } from "./svg.js";

/** Share of hair left at a place, in millimetres of the head from above: x to the patient's right, y from the brow back. */
type Left = (x: number, y: number) => number;

/** Thinning behind a front line that is kept. */
const LUDWIG: readonly Left[] = [0.6, 0.3, 0.05].map((left) => (x, y) => {
  const far = (x / 44) ** 2 + ((y - 98) / 58) ** 2;
  return far > 1 ? 1 : Math.min(1, left + 0.5 * Math.max(0, far - 0.6));
});

interface Stage {
  /** How far back the front edge lies, in the middle and at the temples. */
  readonly middle: number;
  readonly temples: number;
  /** Radius of the thin crown. */
  readonly crown: number;
  /** Hair left in the band between front and crown, out of 1. */
  readonly band: number;
  /** Half width of what is bare from front to crown. */
  readonly width: number;
}

const STAGES: readonly Stage[] = [
  { middle: 0, temples: 0, crown: 0, band: 1, width: 0 },
  { middle: 0, temples: 16, crown: 0, band: 1, width: 0 },
  { middle: 4, temples: 36, crown: 0, band: 1, width: 0 },
  { middle: 16, temples: 50, crown: 24, band: 1, width: 0 },
  { middle: 34, temples: 62, crown: 33, band: 0.45, width: 40 },
  { middle: 60, temples: 70, crown: 38, band: 0.04, width: 42 },
  { middle: 90, temples: 96, crown: 38, band: 0.02, width: 62 },
];
/** The vertex form of stage III, and how far the whole front edge has moved back in the a forms of II to V. */
const VERTEX: Stage = { middle: 2, temples: 22, crown: 24, band: 1, width: 0 };
const A_FORMS: Readonly<Record<number, number>> = { 2: 16, 3: 34, 4: 56, 5: 82 };
const CROWN: Point = [0, 146];

function hamiltonNorwood(stage: number, form: number): Left | undefined {
  const back = form === 2 ? A_FORMS[stage] : undefined;
  const shape =
    back !== undefined
      ? { middle: back, temples: back + 8, crown: 0, band: 1, width: 0 }
      : form === 1 && stage === 3
        ? VERTEX
        : STAGES[stage - 1];
  if (!shape) return undefined;
  return (x, y) => {
    const aside = Math.min(1, Math.abs(x) / 36);
    const reach = shape.middle + (shape.temples - shape.middle) * aside ** 2;
    // The usual front line runs from 20 mm in the middle to 45 mm at the temples.
    const front = 20 + 25 * aside ** 2 + reach;
    if (Math.abs(x) < Math.max(52, shape.width) && y < front) return 0.02;
    if (Math.hypot(x - CROWN[0], y - CROWN[1]) < shape.crown) return 0.05;
    return Math.abs(x) < shape.width && y < CROWN[1] ? shape.band : 1;
  };
}

const HAIR = { step: 7, length: 8 };

/** Drawing of a recorded grade, announced by `alt`; undefined for a score without one, or a step it does not have. */
export function gradeDrawing(
  scoreId: string,
  inputs: Readonly<Record<string, number>>,
  alt: string,
): string | undefined {
  const left =
    scoreId === "ludwig"
      ? LUDWIG[(inputs.grade ?? 0) - 1]
      : scoreId === "hamilton-norwood"
        ? hamiltonNorwood(inputs.stage ?? 0, inputs.form ?? 0)
        : undefined;
  if (!left) return undefined;
  const { frame, outline, features } = HEAD.above;
  const look = { fill: "none", stroke: "#1a1a1a", "stroke-linecap": "round" };
  const lines = (curves: typeof outline, width: number) =>
    curves.map((curve) => element("path", { d: curvePath(curve), ...look, "stroke-width": width })).join("");
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: 48,
      height: num((48 * frame[3]) / frame[2]),
      viewBox: frame.join(" "),
      role: "img",
      "aria-label": alt,
    },
    lines(features, 1.6) +
      element("path", { d: hairs(left), ...look, "stroke-width": 2 }) +
      lines(outline, 3),
  );
}

/** Short strokes that run from the crown outwards, thinned to what is left. */
function hairs(left: Left): string {
  const skull = HEAD.above.outline[0];
  if (!skull) return "";
  const head = flatten(skull);
  const draws = seededDraws("hairs of a head");
  const strokes: string[] = [];
  for (let y = 24; y < 190; y += HAIR.step) {
    for (let x = -74; x < 75; x += HAIR.step) {
      const at: Point = [x + 2 * (draws.uniform() - 0.5), y + 2 * (draws.uniform() - 0.5)];
      const kept = draws.uniform() < left(...at);
      const away = [at[0] - CROWN[0], at[1] - CROWN[1]] as const;
      const far = Math.hypot(...away) || 1;
      const end: Point = [at[0] + (HAIR.length * away[0]) / far, at[1] + (HAIR.length * away[1]) / far];
      const hairline = 20 + 25 * Math.min(1, Math.abs(at[0]) / 46) ** 2;
      if (!kept || at[1] < hairline || end[1] < hairline || !inside(head, at) || !inside(head, end)) continue;
      strokes.push(`M${num(at[0])} ${num(at[1])}L${num(end[0])} ${num(end[1])}`);
    }
  }
  return strokes.join("");
}
