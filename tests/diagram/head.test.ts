import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { flatten, type Point } from "../../src/diagram/curve.js";
import { HEAD, HOME } from "../../src/diagram/head/head.js";
import { VIEWS } from "../../src/diagram/head/head-view.js";
import { pointIn } from "../../src/diagram/map/place.js";
import { SHADES, shaded } from "../../src/diagram/map/shading.js";
import { boxOf, inside } from "../../src/diagram/polygon.js";
import { REGIONS } from "../../src/visit/visit.js";

const shapeOf = (region: (typeof REGIONS)[number]) =>
  HEAD[HOME[region]].regions.find((shape) => shape.region === region);

describe("the head", () => {
  it("shows every region in its home view", () => {
    for (const region of REGIONS) {
      if (region !== "whole scalp") expect(shapeOf(region), region).toBeDefined();
    }
  });

  it("has closed regions without gaps between their pieces", () => {
    for (const view of VIEWS) {
      for (const { region, outline } of HEAD[view].regions) {
        outline.forEach((segment, i) => {
          const next = outline[(i + 1) % outline.length]!;
          const jump = Math.hypot(segment[3][0] - next[0][0], segment[3][1] - next[0][1]);
          expect(jump, `${view} ${region} piece ${i}`).toBeLessThan(0.01);
        });
      }
    }
  });

  it("keeps regions of one view apart and inside its frame", () => {
    for (const view of VIEWS) {
      const { frame, regions } = HEAD[view];
      const polygons = regions.map(({ outline }) => flatten(outline));
      polygons.forEach((polygon, i) => {
        const box = boxOf(polygon);
        expect(box.left).toBeGreaterThanOrEqual(frame[0]);
        expect(box.top).toBeGreaterThanOrEqual(frame[1]);
        expect(box.right).toBeLessThanOrEqual(frame[0] + frame[2]);
        expect(box.bottom).toBeLessThanOrEqual(frame[1] + frame[3]);
        for (let x = box.left + 1.37; x < box.right; x += 4) {
          for (let y = box.top + 1.37; y < box.bottom; y += 4) {
            const p: Point = [x, y];
            if (!inside(polygon, p)) continue;
            const others = polygons.filter((other, j) => j !== i && inside(other, p)).length;
            expect(others, `${view} ${regions[i]!.region} at ${x},${y}`).toBe(0);
          }
        }
      });
    }
  });

  it("puts the patient's left on the page's left from above and behind, on its right in front", () => {
    for (const [view, sign] of [
      ["above", -1],
      ["behind", -1],
      ["front", 1],
    ] as const) {
      for (const { region, outline } of HEAD[view].regions) {
        const box = boxOf(flatten(outline));
        const middle = (box.left + box.right) / 2;
        if (region.startsWith("left")) expect(Math.sign(middle), `${view} ${region}`).toBe(sign);
        if (region.startsWith("right")) expect(Math.sign(middle), `${view} ${region}`).toBe(-sign);
      }
    }
    // In profile the face looks left from the left side, right from the right: the temple is in front.
    const centre = (region: (typeof REGIONS)[number]) => {
      const box = boxOf(flatten(shapeOf(region)!.outline));
      return (box.left + box.right) / 2;
    };
    expect(centre("left temporal")).toBeLessThan(centre("left parietal"));
    expect(centre("right temporal")).toBeGreaterThan(centre("right parietal"));
  });
});

it("any place between 0 and 1 lies inside its region, and further right and down means so on the page", () => {
  const unit = fc.double({ min: 0, max: 1, noNaN: true });
  fc.assert(
    fc.property(
      fc.constantFrom(...REGIONS.filter((r) => r !== "whole scalp")),
      unit,
      unit,
      (region, x, y) => {
        const shape = shapeOf(region)!;
        const polygon = flatten(shape.outline);
        const found = pointIn(shape, [x, y]);
        expect(inside(polygon, found)).toBe(true);
        const along = shape.read === "rows" ? 0 : 1;
        const further = pointIn(
          shape,
          shape.read === "rows" ? [Math.min(1, x + 0.2), y] : [x, Math.min(1, y + 0.2)],
        );
        expect(further[along]).toBeGreaterThanOrEqual(found[along] - 1e-9);
      },
    ),
  );
});

describe("shading", () => {
  const square: Point[] = [
    [0, 0],
    [40, 0],
    [40, 40],
    [0, 40],
  ];

  it("lays its hatch only inside the outline", () => {
    for (const shade of SHADES) {
      for (const [x, y] of [...shaded(square, shade).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map((m) => [
        Number(m[1]),
        Number(m[2]),
      ])) {
        expect(x).toBeGreaterThanOrEqual(-0.01);
        expect(x).toBeLessThanOrEqual(40.01);
        expect(y).toBeGreaterThanOrEqual(-0.01);
        expect(y).toBeLessThanOrEqual(40.01);
      }
    }
  });
});
