import { describe, expect, it } from "vitest";
import { barLength, drawScaleBar } from "../../src/page/drawing/scale-bar.js";

describe("scale bar", () => {
  it("is about a fifth of the picture, in a round length", () => {
    expect([2, 5, 11, 14, 30].map(barLength)).toEqual([0.5, 1, 2, 2, 5]);
  });

  it("is as long in pixels as it says in millimetres", () => {
    const [width, height, widthMm] = [550, 400, 11];
    const data = new Uint8Array(width * height * 3).fill(100);
    const mm = drawScaleBar(data, width, height, widthMm);
    const longest = Math.max(
      ...Array.from(
        { length: height },
        (_, y) =>
          Array.from({ length: width }, (_, x) => data[(y * width + x) * 3]).filter((v) => v === 255).length,
      ),
    );
    expect(longest).toBe(Math.round((mm / widthMm) * width));
  });
});
