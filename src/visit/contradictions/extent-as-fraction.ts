/** Extent written as a fraction (0.4) where percent belong. */
import { AREAS } from "../areas.js";
import type { CheckContext } from "../check-context.js";

export function extentAsFraction({ file, report }: CheckContext): void {
  const { extent } = file;
  if (!extent) return;
  const given = AREAS.flatMap((area) => (extent[area] === undefined ? [] : [[area, extent[area]] as const]));
  const fraction = given.find(([, percent]) => percent > 0 && percent < 1);
  if (!fraction || given.some(([, percent]) => percent > 1)) return;
  const [area, value] = fraction;
  report("extent-as-fraction", ["extent", area], {
    message: `${value} percent of the ${area} is less than the eye can judge`,
    expected: "percent, from 0 to 100",
    suggestion: String(Number((value * 100).toPrecision(3))),
  });
}
