/** What one view of the head is made of, in millimetres of an adult head. */
import type { Region } from "../../visit/visit.js";
import type { Curve } from "../curve.js";

export const VIEWS = ["front", "left", "above", "right", "behind"] as const;
/** How one looks at the head: `front` is the face with its hairline. */
export type View = (typeof VIEWS)[number];

export interface RegionShape {
  readonly region: Region;
  /** Closed outline. */
  readonly outline: Curve;
  /** Whether a place inside is read along its rows or, for arched strips, along its columns. */
  readonly read: "rows" | "columns";
}

export interface HeadView {
  readonly view: View;
  /** Frame in millimetres: left, top, width, height. */
  readonly frame: readonly [left: number, top: number, width: number, height: number];
  /** Strong outer lines. */
  readonly outline: readonly Curve[];
  /** Closed shapes with white ground drawn over the regions: ears. */
  readonly over: readonly Curve[];
  /** Quiet lines: eyes, lips, nose. */
  readonly features: readonly Curve[];
  /** The turn of the hair at the crown; left out where a number stands there. */
  readonly whorl: readonly Curve[];
  /** Soft lines where hair begins. */
  readonly hairline: readonly Curve[];
  readonly regions: readonly RegionShape[];
}
