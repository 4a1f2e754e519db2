/** A field of view too small or too large for a dermoscope, or one given in another unit. */
import type { CheckContext } from "../check-context.js";

/** Millimetres; limits of our own (common practice: 3-25 mm). */
const LOW = 0.8;
const HIGH = 30;

export function scopeField({ file, report }: CheckContext): void {
  const mm = file.scope?.field_diameter_mm;
  if (mm === undefined || (mm >= LOW && mm <= HIGH)) return;
  report("field-diameter-implausible", ["scope", "field_diameter_mm"], {
    message: `a field of view ${mm} mm across`,
    expected: `${LOW} to ${HIGH} mm`,
    suggestion:
      mm < LOW && mm * 10 >= LOW
        ? `${Number((mm * 10).toPrecision(3))}, if centimetres were meant`
        : undefined,
  });
}
