/** A photo as it came from a camera -> a small upright JPEG without any metadata: no place, no date, no device, no thumbnail. */
import { createRequire } from "node:module";
import type { Outcome } from "../base/problem.js";
import { type ImageHead, readImageHead } from "./drawing/image-size.js";
import { decodeJpeg, encodeJpeg, type Pixels } from "./drawing/jpeg.js";
import { drawMarks, type PhotoMarks } from "./drawing/photo-marks.js";
import { drawScaleBar } from "./drawing/scale-bar.js";
import { type PageProblemId, pageError } from "./problems.js";

export type { PhotoMarks } from "./drawing/photo-marks.js";

export interface PreparedPhoto {
  /** JPEG, quality 85, baseline, without metadata. */
  readonly bytes: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Length of the scale bar drawn into the picture, in millimetres; absent without one. */
  readonly barMm?: number;
}

/** Limits on what is decoded: a file of few bytes can claim enough pixels to fill the memory. */
export const PHOTO_LIMITS = { bytes: 24 * 1024 * 1024, pixels: 24_000_000 } as const;

/** Longest side kept: 165 mm of text width at 220 dots an inch is 1430 pixels. */
const LONGEST_PX = 1430;

const JPEG_QUALITY = 85;

const require = createRequire(import.meta.url);

/** `channels` is 4 with transparency. */
interface Decoded extends Pixels {
  readonly channels: 3 | 4;
}

/** Undefined when the file is damaged. */
function decode(bytes: Uint8Array, kind: ImageHead["kind"]): Decoded | undefined {
  if (kind === "jpeg") {
    const pixels = decodeJpeg(bytes, PHOTO_LIMITS.pixels);
    return pixels && { ...pixels, channels: 3 };
  }
  const { PNG } = require("pngjs") as typeof import("pngjs");
  try {
    const { width, height, data } = PNG.sync.read(
      Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength),
    );
    return { width, height, data, channels: 4 };
  } catch {
    return undefined;
  }
}

/** Where pixel (x, y) of the upright picture comes from, by EXIF orientation. `width` and `height` are those stored. */
function storedPlace(
  orientation: number,
  x: number,
  y: number,
  width: number,
  height: number,
): [number, number] {
  switch (orientation) {
    case 2:
      return [width - 1 - x, y];
    case 3:
      return [width - 1 - x, height - 1 - y];
    case 4:
      return [x, height - 1 - y];
    case 5:
      return [y, x];
    case 6:
      return [y, height - 1 - x];
    case 7:
      return [width - 1 - y, height - 1 - x];
    case 8:
      return [width - 1 - y, x];
    default:
      return [x, y];
  }
}

/** Scales down by averaging the pixels under each new one, on white where the picture is transparent. */
function scaleDown(pixels: Decoded, factor: number): Pixels {
  const width = Math.max(1, Math.round(pixels.width * factor));
  const height = Math.max(1, Math.round(pixels.height * factor));
  const data = new Uint8Array(width * height * 3);
  const { data: from, channels } = pixels;
  for (let y = 0; y < height; y += 1) {
    const top = Math.floor((y * pixels.height) / height);
    const bottom = Math.max(top + 1, Math.floor(((y + 1) * pixels.height) / height));
    for (let x = 0; x < width; x += 1) {
      const left = Math.floor((x * pixels.width) / width);
      const right = Math.max(left + 1, Math.floor(((x + 1) * pixels.width) / width));
      let red = 0;
      let green = 0;
      let blue = 0;
      for (let v = top; v < bottom; v += 1) {
        let at = (v * pixels.width + left) * channels;
        for (let u = left; u < right; u += 1, at += channels) {
          const alpha = channels === 4 ? (from[at + 3] ?? 255) / 255 : 1;
          const white = 255 * (1 - alpha);
          red = red + (from[at] ?? 0) * alpha + white;
          green = green + (from[at + 1] ?? 0) * alpha + white;
          blue = blue + (from[at + 2] ?? 0) * alpha + white;
        }
      }
      const count = (bottom - top) * (right - left);
      const to = (y * width + x) * 3;
      data[to] = Math.round(red / count);
      data[to + 1] = Math.round(green / count);
      data[to + 2] = Math.round(blue / count);
    }
  }
  return { width, height, data };
}

function turnUpright(pixels: Pixels, orientation: number): Pixels {
  if (orientation === 1) return pixels;
  const isTurned = orientation > 4;
  const width = isTurned ? pixels.height : pixels.width;
  const height = isTurned ? pixels.width : pixels.height;
  const data = new Uint8Array(width * height * 3);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const [u, v] = storedPlace(orientation, x, y, pixels.width, pixels.height);
      const from = (v * pixels.width + u) * 3;
      data.set(pixels.data.subarray(from, from + 3), (y * width + x) * 3);
    }
  }
  return { width, height, data };
}

function refuse(id: PageProblemId, message: string): Outcome<PreparedPhoto> {
  return { problems: [pageError(id, message)] };
}

/**
 * Makes a photo fit for a letter: at most 1430 pixels on the longer side, upright by its EXIF orientation, re-encoded as JPEG
 * from its pixels alone. With `widthMm`, the scalp its width shows, a scale bar is drawn in; with
 * `marks`, numbered pointers, in pixels of the upright photo as it came. Refuses files that are neither JPEG nor PNG, are damaged, or are beyond PHOTO_LIMITS.
 */
export function preparePhoto(
  bytes: Uint8Array,
  widthMm?: number,
  marks?: PhotoMarks,
): Outcome<PreparedPhoto> {
  if (bytes.byteLength > PHOTO_LIMITS.bytes) {
    return refuse(
      "photo-too-large",
      `the photo has ${bytes.byteLength} bytes; at most ${PHOTO_LIMITS.bytes} can be read`,
    );
  }
  const head = readImageHead(bytes);
  if (!head) return refuse("photo-broken", "the photo is not a readable JPEG or PNG");
  if (head.widthPx * head.heightPx > PHOTO_LIMITS.pixels) {
    return refuse(
      "photo-too-large",
      `the photo has ${head.widthPx} by ${head.heightPx} pixels; at most ${PHOTO_LIMITS.pixels} pixels can be read`,
    );
  }
  const pixels = decode(bytes, head.kind);
  if (!pixels)
    return refuse("photo-broken", `the photo begins as ${head.kind.toUpperCase()} but is damaged further on`);
  const factor = Math.min(1, LONGEST_PX / Math.max(pixels.width, pixels.height));
  // A JPEG holds nothing transparent, so one that is small enough stays as decoded.
  const small = factor === 1 && head.kind === "jpeg" ? pixels : scaleDown(pixels, factor);
  const upright = turnUpright(small, head.orientation);
  if (marks) drawMarks(upright, marks, factor);
  const barMm = widthMm ? drawScaleBar(upright.data, upright.width, upright.height, widthMm) : undefined;
  return {
    value: {
      bytes: encodeJpeg(upright, JPEG_QUALITY),
      widthPx: upright.width,
      heightPx: upright.height,
      ...(barMm === undefined ? {} : { barMm }),
    },
    problems: [],
  };
}
