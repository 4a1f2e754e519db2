/** What the marks come to, as they are set: counts, density, shares and widths with their intervals, and what the eye is poor at. */
import type { JSX } from "preact";
import { count, measured } from "../../../picture/count.js";
import type { EyeWarning } from "../../../picture/eye/suggest.js";
import { EDGE_RULE } from "../../../picture/geometry.js";
import type { Estimate } from "../../../picture/intervals.js";
import type { Marks } from "../../../picture/marks.js";
import { isCounted } from "./edit-marks.js";

const figure = (value: number, places = 0) => value.toFixed(places);
const within = ({ value, low, high }: Estimate, unit: string, places = 0, times = 1) =>
  `${figure(times * value, places)} ${unit} (${figure(times * low, places)}–${figure(times * high, places)})`;

export function Live({ marks }: { readonly marks: Marks }): JSX.Element {
  const counted = count(marks);
  const found = measured(marks, counted);
  const { scale } = counted;
  const rows: [string, string][] = [
    ["Hairs in the area", `${counted.hairs}${counted.onEdge > 0 ? `, ${counted.onEdge} near its edge` : ""}`],
    [
      "Units",
      Object.entries(counted.units)
        .map(([size, n]) => `${n} with ${size} ${size === "1" ? "hair" : "hairs"}`)
        .join(", ") || "–",
    ],
    ["Density", found.density ? within(found.density, "/cm²") : whyNot(marks, scale !== undefined)],
    ...(found.thin ? [["Thin and vellus", within(found.thin, "%", 0, 100)] as [string, string]] : []),
    ...(found.hairsPerUnit
      ? [["Hairs per unit", within(found.hairsPerUnit, "", 1)] as [string, string]]
      : []),
    ...(found.diameterUm
      ? [[`Shaft diameter, ${found.diameterUm.n}`, within(found.diameterUm, "µm")] as [string, string]]
      : []),
    [
      "Scale",
      scale ? `${figure(1000 * scale.mmPerPx, 1)} µm a pixel ± ${figure(196 * scale.error, 1)} %` : "not set",
    ],
    ...Object.entries(counted.dots).map(([finding, n]): [string, string] => [
      finding.replaceAll("-", " "),
      String(n),
    ]),
  ];
  return (
    <>
      <dl class="live" aria-live="polite">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p class="hint">{EDGE_RULE} Intervals hold 95 %: counting, hairs on the edge, and the scale.</p>
    </>
  );
}

function whyNot(marks: Marks, hasScale: boolean): string {
  if (!hasScale) return "set the scale first";
  return isCounted(marks) ? "–" : "tick that all hairs are marked";
}

/** Figures of `npm run eye` in plain words. */
const SAYS: Readonly<Record<EyeWarning, string>> = {
  blur: "This picture is blurred: widths come out too large, by a sixth to more than a half on test pictures. Measure no shafts on it.",
  glare:
    "The lamp shows on the skin: a sixth of hairs are missed on such pictures, and a quarter of suggestions are not hairs.",
  crossing: "Hairs cross often: which end leaves the skin is right in one of two.",
  faint: "Hairs stand out little from the skin: about a quarter are missed on such pictures.",
  crowded: "Hairs stand close: a fifth are missed, and one suggestion in five is not a hair.",
};

export function EyeSays({ warnings }: { readonly warnings: readonly EyeWarning[] }): JSX.Element {
  return (
    <div class="eye-says">
      <p class="hint">
        Hollow marks are suggestions and count only once accepted. On clear test pictures about one hair in
        seven is missed, one suggestion in five is no hair, the end at the skin is wrong in one of four, and
        widths come out a tenth too large. Where vessels or bubbles show, two suggestions in five are no
        hairs; where hairs curl or cross, the end is wrong in one of two. The wider end of a hair is taken for
        the one at the skin: exclamation mark hairs may come out the wrong way round. The eye does not notice
        that itself: turn them round, or mark by hand.
      </p>
      {warnings.map((warning) => (
        <p key={warning} class="poor" role="note">
          {SAYS[warning]}
        </p>
      ))}
    </div>
  );
}
