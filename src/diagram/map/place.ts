/** Finds where on the paper a recorded site lies, and where its number can stand without covering another. */
import type { Region } from "../../visit/visit.js";
import { type Curve, flatten, type Point } from "../curve.js";
import type { RegionShape } from "../head/head-view.js";
import { boxOf, type Polygon, rowsInside } from "../polygon.js";

const swap = ([x, y]: Point): Point => [y, x];

/**
 * The point of a region at `at` (0-1 from its left and top as drawn). The first measure is taken over the region's
 * box, the second only over what lies inside there, so that the point never falls outside.
 */
export function pointIn(shape: Pick<RegionShape, "outline" | "read">, at: Point): Point {
  const polygon: Polygon = flatten(shape.outline as Curve);
  const rows = shape.read === "rows";
  const turned = rows ? polygon : polygon.map(swap);
  const [across, along] = rows ? at : swap(at);
  const box = boxOf(turned);
  const hold = (t: number) => 0.04 + 0.92 * Math.min(1, Math.max(0, t));
  const level = box.top + hold(along) * (box.bottom - box.top);
  const spans = rowsInside(turned, level);
  const total = spans.reduce((sum, [from, to]) => sum + to - from, 0);
  let left = hold(across) * total;
  let found: Point = [(box.left + box.right) / 2, level];
  for (const [from, to] of spans) {
    found = [from + Math.min(left, to - from), level];
    if (left <= to - from) break;
    left -= to - from;
  }
  return rows ? found : swap(found);
}

/** So many sites of one region stand in a line; more of them in several. */
const MOST_IN_LINE = 4;

/** Where each site of a region lies when the file says nothing: spread evenly along its length, many of them in rows. */
export function spread(index: number, count: number, read: RegionShape["read"]): Point {
  if (count > MOST_IN_LINE && read === "rows") {
    const rows = Math.ceil(count / MOST_IN_LINE);
    const row = Math.floor(index / MOST_IN_LINE);
    const here = Math.min(MOST_IN_LINE, count - row * MOST_IN_LINE);
    return [((index % MOST_IN_LINE) + 0.5) / here, (row + 0.5) / rows];
  }
  const t = (index + 1) / (count + 1);
  // A little above the middle: ears and margins lie low in the side regions.
  return [t, read === "columns" ? 0.5 : 0.42];
}

export interface Anchor {
  readonly number: number;
  readonly region: Region;
  /** The site itself, in points. */
  readonly at: Point;
  /** Half axes of its patch in points, if any. */
  readonly patch?: Point;
}

export interface PinPlace extends Anchor {
  /** Centre of the numbered disc. */
  readonly disc: Point;
}

export interface Room {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/**
 * Gives each anchor a disc of `radius`: on the site where there is room, beside it with a line otherwise. Discs
 * never overlap each other and stay inside `room`; they avoid other sites and patches while they can.
 */
export function placePins(anchors: readonly Anchor[], radius: number, room: Room): PinPlace[] {
  const placed: PinPlace[] = [];
  const centre: Point = [(room.left + room.right) / 2, (room.top + room.bottom) / 2];
  for (const anchor of anchors) {
    let best: Point | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const candidate of candidates(anchor, radius, room)) {
      if (placed.some((other) => gap(candidate, other.disc) < 2 * radius + 1)) continue;
      const cost = price(candidate, anchor, anchors, radius, centre);
      if (cost < least) {
        least = cost;
        best = candidate;
      }
    }
    if (best !== undefined) placed.push({ ...anchor, disc: best });
  }
  return placed;
}

/** The largest disc, at most `wanted`, that `count` greedy placements cannot run out of room for. */
export function discRadius(wanted: number, count: number, room: Room): number {
  const area = (room.right - room.left) * (room.bottom - room.top);
  // Each disc blocks at most a square of twice its pitch; the grid of candidates has one to a pitch.
  return Math.min(wanted, Math.sqrt(area / (6 * Math.max(1, count))) / 2 - 0.6);
}

const gap = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

function candidates(anchor: Anchor, radius: number, room: Room): Point[] {
  const found: Point[] = [anchor.at];
  const [rx, ry] = anchor.patch ?? [0, 0];
  for (let ring = 0; ring < 8; ring++) {
    for (let k = 0; k < 24; k++) {
      const t = (k / 24) * 2 * Math.PI;
      const away = radius + (anchor.patch === undefined ? 1.2 : 3) + ring * radius * 0.7;
      found.push([anchor.at[0] + (rx + away) * Math.cos(t), anchor.at[1] + (ry + away) * Math.sin(t)]);
    }
  }
  const pitch = 2 * radius + 1.05;
  for (let x = room.left + radius; x <= room.right - radius; x += pitch) {
    for (let y = room.top + radius; y <= room.bottom - radius; y += pitch) found.push([x, y]);
  }
  return found.filter(
    ([x, y]) =>
      x >= room.left + radius &&
      x <= room.right - radius &&
      y >= room.top + radius &&
      y <= room.bottom - radius,
  );
}

function price(at: Point, own: Anchor, all: readonly Anchor[], radius: number, centre: Point): number {
  let cost = gap(at, own.at);
  // A number on its own patch is good only while plenty of the patch shows around it.
  if (own.patch !== undefined) {
    const [rx, ry] = own.patch;
    const covers =
      ((at[0] - own.at[0]) / (rx + radius)) ** 2 + ((at[1] - own.at[1]) / (ry + radius)) ** 2 < 1;
    if (covers && Math.min(rx, ry) < 1.9 * radius) cost += 60;
  }
  for (const other of all) {
    if (other === own) continue;
    const [rx, ry] = other.patch ?? [0.8, 0.8];
    const near = ((at[0] - other.at[0]) / (rx + radius)) ** 2 + ((at[1] - other.at[1]) / (ry + radius)) ** 2;
    if (near < 1) cost += 45;
  }
  // Of equal places the higher one, clear of eyes and ears, and the outer one, clear of the scalp.
  return cost + 0.3 * Math.max(0, at[1] - own.at[1]) - 0.06 * gap(at, centre);
}
