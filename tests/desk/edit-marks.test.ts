/** Marks that are moved on a photo: the nearest alone, whole, and never out of the picture. */
import { describe, expect, it } from "vitest";
import {
  addDot,
  addHair,
  addWidth,
  emptyMarks,
  moveNearest,
  nearest,
} from "../../src/desk/page/photo/edit-marks.js";
import { knowledge } from "../letter/compose.js";

const dotted = Object.keys(knowledge.findings).find((id) => id === "yellow-dots") ?? "";
const empty = emptyMarks({ sha256: "0".repeat(64), widthPx: 400, heightPx: 300 });
const marks = addWidth(
  addDot(addHair(addHair(empty, [50, 50], "terminal", false), [60, 50], "thin", true), [200, 100], dotted),
  [300, 200],
  [304, 203],
);

describe("moving a mark", () => {
  it("takes the one nearest to the first tap, with its class and unit", () => {
    const moved = moveNearest(marks, [58, 51], [68, 71], 12);
    expect(moved.hairs).toEqual([marks.hairs[0], { at: [70, 70], class: "thin", unit: 1 }]);
    expect({ ...moved, hairs: marks.hairs }).toEqual(marks);
  });

  it("moves a width as a whole, so that it stays as wide", () => {
    expect(moveNearest(marks, [302, 201], [312, 191], 5).widths).toEqual([
      { from: [310, 190], to: [314, 193] },
    ]);
  });

  it("stops at the edge of the picture", () => {
    expect(moveNearest(marks, [200, 100], [900, 100], 5).dots[0]?.at).toEqual([400, 100]);
  });

  it("moves nothing where no mark lies within reach", () => {
    expect(nearest(marks, [120, 250], 12)).toBeUndefined();
    expect(moveNearest(marks, [120, 250], [130, 250], 12)).toBe(marks);
  });
});
