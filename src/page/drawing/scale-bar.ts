/** Burns a scale bar into the pixels of a photo, so that it stays with the picture wherever it is copied. */

/** Lengths a bar may have, in millimetres. */
const LENGTHS = [0.2, 0.5, 1, 2, 5, 10];
/** A bar reads well at about a fifth of the picture. */
const WANTED_SHARE = 0.2;

/** Length of bar for a picture whose width shows `widthMm` of scalp. */
export function barLength(widthMm: number): number {
  const wanted = widthMm * WANTED_SHARE;
  return LENGTHS.reduce((best, mm) => (Math.abs(mm - wanted) < Math.abs(best - wanted) ? mm : best));
}

/**
 * Draws a white bar with a dark edge near the lower right corner; `data` is red, green, blue by rows and is changed in
 * place. Returns the bar's length in millimetres.
 */
export function drawScaleBar(data: Uint8Array, width: number, height: number, widthMm: number): number {
  const mm = barLength(widthMm);
  const length = Math.min(Math.round((mm / widthMm) * width), width - 4);
  const thick = Math.max(3, Math.round(height * 0.012));
  const edge = Math.max(1, Math.round(thick / 3));
  const right = width - Math.round(width * 0.05);
  const bottom = height - Math.round(height * 0.05);
  const fill = (x0: number, y0: number, x1: number, y1: number, value: number) => {
    for (let y = Math.max(0, y0); y < Math.min(height, y1); y++) {
      for (let x = Math.max(0, x0); x < Math.min(width, x1); x++) {
        const at = (y * width + x) * 3;
        data[at] = value;
        data[at + 1] = value;
        data[at + 2] = value;
      }
    }
  };
  fill(right - length - edge, bottom - thick - edge, right + edge, bottom + edge, 20);
  fill(right - length, bottom - thick, right, bottom, 255);
  return mm;
}
