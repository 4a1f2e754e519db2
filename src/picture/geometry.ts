/**
 * Lengths and areas in a picture, and the one rule by which a mark on the edge counts: what is counted is a point, and it
 * counts within the area and on its left and upper edge, never on its right or lower one. So areas side by side share no
 * hair, and none falls between them (the rule of the forbidden line for counting frames, Gundersen 1977, put to points; from memory).
 */
import type { Area, Point } from "./marks.js";

/** The rule in words, as pages and help print it. */
export const EDGE_RULE =
  "A hair counts where it leaves the skin: inside the area or on its left or upper edge, never on its right or lower edge.";

export const distance = ([ax, ay]: Point, [bx, by]: Point): number => Math.hypot(bx - ax, by - ay);

/** Left, top, right and bottom of an area. */
export function bounds(area: Area): { left: number; top: number; right: number; bottom: number } {
  if (area.kind === "circle") {
    const { centre, radiusPx: r } = area;
    return { left: centre[0] - r, top: centre[1] - r, right: centre[0] + r, bottom: centre[1] + r };
  }
  const points = cornersOf(area);
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

export function areaPx2(area: Area): number {
  return area.kind === "circle" ? Math.PI * area.radiusPx ** 2 : polygonPx2(cornersOf(area));
}

/** By the sum of signed triangles; corners in either order. */
export function polygonPx2(corners: readonly Point[]): number {
  const twice = corners.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length] ?? [x, y];
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

/** True when the point counts, by the edge rule above. */
export function counts(area: Area, [x, y]: Point): boolean {
  if (area.kind === "circle") {
    const [cx, cy] = area.centre;
    const far = (x - cx) ** 2 + (y - cy) ** 2 - area.radiusPx ** 2;
    return far < 0 || (far === 0 && (x < cx || (x === cx && y < cy)));
  }
  const corners = cornersOf(area);
  let inside = false;
  for (const [i, [ax, ay]] of corners.entries()) {
    const [bx, by] = corners[(i + 1) % corners.length] ?? [ax, ay];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

/** How far a point lies from the nearest edge of an area. */
export function fromEdge(area: Area, point: Point): number {
  if (area.kind === "circle") return Math.abs(distance(area.centre, point) - area.radiusPx);
  const corners = cornersOf(area);
  return Math.min(
    ...corners.map((from, i) => fromLine(from, corners[(i + 1) % corners.length] ?? from, point)),
  );
}

export function fromLine([ax, ay]: Point, [bx, by]: Point, [x, y]: Point): number {
  const [dx, dy] = [bx - ax, by - ay];
  const length2 = dx * dx + dy * dy;
  const along = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / length2));
  return Math.hypot(x - ax - along * dx, y - ay - along * dy);
}

function cornersOf(area: Exclude<Area, { kind: "circle" }>): readonly Point[] {
  if (area.kind === "polygon") return area.corners;
  const [left, right] = [Math.min(area.from[0], area.to[0]), Math.max(area.from[0], area.to[0])];
  const [top, bottom] = [Math.min(area.from[1], area.to[1]), Math.max(area.from[1], area.to[1])];
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}

/** Longest measure of an outline, and its extent square to that. */
export function sizeOfOutline(outline: readonly Point[]): { length: number; across: number } {
  let length = 0;
  let along: Point = [1, 0];
  for (const [i, from] of outline.entries()) {
    for (const to of outline.slice(i + 1)) {
      const far = distance(from, to);
      if (far > length) {
        length = far;
        along = [(to[0] - from[0]) / far, (to[1] - from[1]) / far];
      }
    }
  }
  const heights = outline.map(([x, y]) => y * along[0] - x * along[1]);
  return { length, across: Math.max(...heights) - Math.min(...heights) };
}
