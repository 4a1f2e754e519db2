/**
 * Ridges: long dark (or light) lines against their ground. At each scale the second derivatives of the blurred picture tell how
 * sharply it bends across the line and how little along it (Frangi and others 1998; the line's direction and its middle as
 * Steger 1998). The strongest scale stands; thin lines are left where the strength is greatest across the line.
 */
import { blurred, type Grey } from "./grey.js";

/** Blur before the derivatives, in pixels: lines of about 2 to 20 pixels. */
const SCALES = [1.2, 2, 3.4, 5.4];

export interface Ridges {
  readonly width: number;
  readonly height: number;
  /** Strength in grey values; 0 where there is no line. */
  readonly strength: Float32Array;
  /** Direction of the line, -π/2 to π/2. */
  readonly direction: Float32Array;
  /** Strength of the ground: standard deviation of what noise and skin give. */
  readonly noise: number;
}

/** `sign` 1 for dark lines, -1 for light ones. */
export function ridgesOf(grey: Grey, sign: 1 | -1, scales: readonly number[] = SCALES): Ridges {
  const { width, height } = grey;
  const strength = new Float32Array(width * height);
  const direction = new Float32Array(width * height);
  for (const sigma of scales) {
    const { data } = blurred(grey, sigma);
    const scale = sigma * sigma * sign;
    for (let y = 1; y < height - 1; y++) {
      for (let x = 1, at = y * width + 1; x < width - 1; x++, at++) {
        const middle = 2 * (data[at] ?? 0);
        const xx = (data[at - 1] ?? 0) + (data[at + 1] ?? 0) - middle;
        const yy = (data[at - width] ?? 0) + (data[at + width] ?? 0) - middle;
        // The greater bend is at most |xx| + |yy| + |xy|: most of the ground is passed over here.
        if ((xx + yy) * sign <= 0) continue;
        const xy =
          ((data[at + width + 1] ?? 0) +
            (data[at - width - 1] ?? 0) -
            (data[at + width - 1] ?? 0) -
            (data[at - width + 1] ?? 0)) /
          4;
        const half = (xx - yy) / 2;
        const root = Math.sqrt(half * half + xy * xy);
        const mean = (xx + yy) / 2;
        const across = sign > 0 ? mean + root : mean - root;
        const along = sign > 0 ? mean - root : mean + root;
        // A spot bends as much along as across.
        const value = scale * across - Math.abs(scale * along);
        if (value <= (strength[at] ?? 0)) continue;
        strength[at] = value;
        // Across the line lies the eigenvector of the greater bend; the line itself square to it.
        direction[at] = Math.atan2(2 * xy * sign, (xx - yy) * sign) / 2 + Math.PI / 2;
      }
    }
  }
  return { width, height, strength, direction, noise: spread(strength) };
}

/** Robust standard deviation of strengths that are mostly noise: the median over the half-normal one's. */
function spread(strength: Float32Array): number {
  const step = Math.max(1, Math.floor(strength.length / 40_000));
  const some: number[] = [];
  for (let i = 0; i < strength.length; i += step) some.push(strength[i] ?? 0);
  some.sort((a, b) => a - b);
  return (some[some.length >> 1] ?? 0) / 0.6745;
}

/** True where the strength is no less than a pixel to either side across the line. */
export function middles(
  { width, height, strength, direction }: Ridges,
  mask: Uint8Array,
  least: number,
): Uint8Array {
  const found = new Uint8Array(strength.length);
  for (let y = 2; y < height - 2; y++) {
    for (let x = 2, at = y * width + 2; x < width - 2; x++, at++) {
      const value = strength[at] ?? 0;
      if (value < least || mask[at] === 1) continue;
      const across = (direction[at] ?? 0) + Math.PI / 2;
      const [dx, dy] = [Math.cos(across), Math.sin(across)];
      if (
        value >= between(strength, width, x + dx, y + dy) &&
        value > between(strength, width, x - dx, y - dy)
      )
        found[at] = 1;
    }
  }
  return found;
}

function between(data: Float32Array, width: number, x: number, y: number): number {
  const [i, j] = [Math.floor(x), Math.floor(y)];
  const [fx, fy] = [x - i, y - j];
  const at = j * width + i;
  return (
    ((data[at] ?? 0) * (1 - fx) + (data[at + 1] ?? 0) * fx) * (1 - fy) +
    ((data[at + width] ?? 0) * (1 - fx) + (data[at + width + 1] ?? 0) * fx) * fy
  );
}
