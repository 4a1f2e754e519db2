/** Marks on a photo as the rest of the house sees them: plain data. Points are pixels of the upright picture, from its top left corner. */
import type { FindingId } from "../base/ids.js";

/** x to the right, y down. */
export type Point = readonly [number, number];

export const HAIR_CLASSES = ["terminal", "thin", "vellus"] as const;
/** Terminal: not thin; thin: under 0.03 mm and no vellus hair; vellus. The three shut each other out. */
export type HairClass = (typeof HAIR_CLASSES)[number];

/** Where a hair leaves the skin. Hairs of one number leave it together, as one follicular unit. */
export interface HairMark {
  readonly at: Point;
  readonly class?: HairClass;
  readonly unit?: number;
}

export interface DotMark {
  readonly at: Point;
  /** Finding id. */
  readonly finding: FindingId;
}

/** A line across a shaft, from edge to edge. */
export interface WidthMark {
  readonly from: Point;
  readonly to: Point;
}

export interface ArrowMark {
  /** What is pointed at. */
  readonly at: Point;
  /** Finding id. */
  readonly finding: FindingId;
}

export interface PatchMark {
  readonly outline: readonly Point[];
}

export interface ScaleLine {
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
}

export interface FieldCircle {
  readonly centre: Point;
  readonly diameterPx: number;
  readonly diameterMm: number;
}

export type Scale =
  | { readonly kind: "lines"; readonly lines: readonly ScaleLine[] }
  | { readonly kind: "field"; readonly field: FieldCircle };

/** The part of the picture in which everything of a kind was counted. */
export type Area =
  | { readonly kind: "circle"; readonly centre: Point; readonly radiusPx: number }
  | { readonly kind: "rectangle"; readonly from: Point; readonly to: Point }
  | { readonly kind: "polygon"; readonly corners: readonly Point[] };

export interface MarkedPhoto {
  /** File name, beside the marks. */
  readonly file: string;
  /** Over the bytes of the file, in hexadecimal. */
  readonly sha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface Marks {
  readonly photo: MarkedPhoto;
  readonly by?: string;
  readonly scale?: Scale;
  readonly area?: Area;
  /** How far the edges of the picture are blurred: standard deviation in pixels. */
  readonly blurPx?: number;
  /** Of these, all within the area are marked: `hairs`, and finding ids. */
  readonly counted: readonly string[];
  readonly hairs: readonly HairMark[];
  readonly dots: readonly DotMark[];
  readonly widths: readonly WidthMark[];
  readonly arrows: readonly ArrowMark[];
  readonly patches: readonly PatchMark[];
}

/** In `counted`: all hairs of the area are marked. */
export const HAIRS = "hairs";

/** `photos/left-1.jpg` -> `photos/left-1.marks.yaml` */
export function marksFileOf(photo: string): string {
  return `${photo.replace(/\.[^./]+$/u, "")}.marks.yaml`;
}

/** True for the name of a file that holds marks and so no visit. */
export const isMarksFile = (name: string): boolean => /\.marks\.ya?ml$/iu.test(name);
