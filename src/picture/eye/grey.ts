/** Pictures as grey values, and the few things that a ridge filter needs of them. Pixel (0, 0) has its middle at (0.5, 0.5). */

export interface Grey {
  readonly width: number;
  readonly height: number;
  /** 0 black to 255 white, by rows. */
  readonly data: Float32Array;
}

export interface Rgba {
  readonly width: number;
  readonly height: number;
  /** Red, green, blue, alpha by rows. */
  readonly data: Uint8Array | Uint8ClampedArray;
}

/** Brightness (Rec. 709 weights). */
export function greyOf({ width, height, data }: Rgba): Grey {
  const grey = new Float32Array(width * height);
  for (let i = 0, at = 0; i < grey.length; i++, at += 4)
    grey[i] = 0.2126 * (data[at] ?? 0) + 0.7152 * (data[at + 1] ?? 0) + 0.0722 * (data[at + 2] ?? 0);
  return { width, height, data: grey };
}

/** At half the size, each pixel the mean of four. */
export function halved({ width, height, data }: Grey): Grey {
  const [w, h] = [width >> 1, height >> 1];
  const half = new Float32Array(w * h);
  for (let y = 0; y < h; y++) {
    for (let x = 0, at = 2 * y * width; x < w; x++, at += 2)
      half[y * w + x] =
        ((data[at] ?? 0) + (data[at + 1] ?? 0) + (data[at + width] ?? 0) + (data[at + width + 1] ?? 0)) / 4;
  }
  return { width: w, height: h, data: half };
}

/** Between pixels, by the four around; beyond the edge the nearest. */
export function sample({ width, height, data }: Grey, x: number, y: number): number {
  const u = Math.min(width - 1.001, Math.max(0, x - 0.5));
  const v = Math.min(height - 1.001, Math.max(0, y - 0.5));
  const [i, j] = [Math.floor(u), Math.floor(v)];
  const [fx, fy] = [u - i, v - j];
  const at = j * width + i;
  const top = (data[at] ?? 0) * (1 - fx) + (data[at + 1] ?? 0) * fx;
  const bottom = (data[at + width] ?? 0) * (1 - fx) + (data[at + width + 1] ?? 0) * fx;
  return top * (1 - fy) + bottom * fy;
}

/** Blurred by a Gaussian of standard deviation `sigma`, rows and columns in turn; the edge pixels go on beyond the edge. */
export function blurred({ width, height, data }: Grey, sigma: number): Grey {
  const reach = Math.ceil(3 * sigma);
  const weights = Array.from({ length: reach + 1 }, (_, i) => Math.exp(-(i * i) / (2 * sigma * sigma)));
  const sum = weights.reduce((a, b, i) => a + (i === 0 ? b : 2 * b), 0);
  const kernel = Float32Array.from(weights, (weight) => weight / sum);
  const rows = new Float32Array(data.length);
  const padded = new Float32Array(width + 2 * reach);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    padded.fill(data[row] ?? 0, 0, reach);
    padded.set(data.subarray(row, row + width), reach);
    padded.fill(data[row + width - 1] ?? 0, reach + width);
    for (let x = 0; x < width; x++) {
      let value = (kernel[0] ?? 0) * (padded[x + reach] ?? 0);
      for (let k = 1; k <= reach; k++)
        value += (kernel[k] ?? 0) * ((padded[x + reach - k] ?? 0) + (padded[x + reach + k] ?? 0));
      rows[row + x] = value;
    }
  }
  const result = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let k = -reach; k <= reach; k++) {
      const from = Math.min(height - 1, Math.max(0, y + k)) * width;
      const weight = kernel[Math.abs(k)] ?? 0;
      for (let x = 0; x < width; x++)
        result[row + x] = (result[row + x] ?? 0) + weight * (rows[from + x] ?? 0);
    }
  }
  return { width, height, data: result };
}

/** Pixels in which nothing can be seen: glare, the black round a round field, and what lies within `margin` of both. */
export function unseen(grey: Grey, margin: number): { readonly mask: Uint8Array; readonly glare: number } {
  const { width, height, data } = grey;
  const mask = new Uint8Array(data.length);
  const black = fromCorners(grey);
  let bright = 0;
  let seen = 0;
  for (let i = 0; i < data.length; i++) {
    if (black[i] === 1) mask[i] = 1;
    else {
      seen++;
      if ((data[i] ?? 0) >= GLARE) {
        bright++;
        mask[i] = 1;
      }
    }
  }
  return { mask: grown(mask, width, height, margin), glare: seen === 0 ? 0 : bright / seen };
}

/** Brighter than this a pixel shows the lamp, not the skin. */
const GLARE = 248;
/** Darker than this the ground beside a round field is black. */
const BLACK = 40;

/** The dark pixels that hang together with the corners of the picture. */
function fromCorners({ width, height, data }: Grey): Uint8Array {
  const found = new Uint8Array(data.length);
  const next: number[] = [0, width - 1, (height - 1) * width, height * width - 1];
  while (next.length > 0) {
    const at = next.pop() ?? 0;
    if (found[at] === 1 || (data[at] ?? 0) > BLACK) continue;
    found[at] = 1;
    const x = at % width;
    if (x > 0) next.push(at - 1);
    if (x < width - 1) next.push(at + 1);
    if (at >= width) next.push(at - width);
    if (at < width * (height - 1)) next.push(at + width);
  }
  return found;
}

/** The mask with every pixel within `by` of it along a row or column, and so within a square. */
function grown(mask: Uint8Array, width: number, height: number, by: number): Uint8Array {
  const spread = (from: Uint8Array, lines: number, length: number, line: number, step: number) => {
    const to = new Uint8Array(from.length);
    for (let i = 0; i < lines; i++) {
      let last = Number.NEGATIVE_INFINITY;
      for (let j = 0; j < length; j++) {
        if (from[i * line + j * step] === 1) last = j;
        if (j - last <= by) to[i * line + j * step] = 1;
      }
      last = Number.POSITIVE_INFINITY;
      for (let j = length - 1; j >= 0; j--) {
        if (from[i * line + j * step] === 1) last = j;
        if (last - j <= by) to[i * line + j * step] = 1;
      }
    }
    return to;
  };
  return spread(spread(mask, height, width, width, 1), width, height, 1, width);
}
