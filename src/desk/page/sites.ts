/** Sites of a visit as the map shows them, and the edits that place, move, size and remove one. */
import type { Region } from "../../visit/visit.js";
import type { Edit, Written } from "../messages.js";
import { listAt, textAt } from "./apply.js";
import type { Size } from "./map-pin.js";
import type { SitePlace } from "./map-places.js";
import type { Words } from "./use.js";

export interface SiteRow {
  /** Null when the region is missing or not understood. */
  readonly place: SitePlace | null;
  readonly size: Size | undefined;
  readonly isBlurred: boolean;
}

const numberIn = (text: string): number | undefined =>
  /^\d+(?:\.\d+)?$/u.test(text.trim()) ? Number(text) : undefined;

export function sitesOf(written: Written, words: Words): SiteRow[] {
  return listAt(written, ["sites"]).map((entry) => {
    const region = words.regionOf.find(textAt(entry, ["site"])) as Region | undefined;
    const [x, y] = [numberIn(textAt(entry, ["at", "x"])), numberIn(textAt(entry, ["at", "y"]))];
    const length = numberIn(textAt(entry, ["patch", "length_mm"]));
    const width = numberIn(textAt(entry, ["patch", "width_mm"]));
    return {
      place: region
        ? { site: region, ...(x !== undefined && y !== undefined ? { at: { x, y } } : {}) }
        : null,
      size: length !== undefined && width !== undefined ? { length, width } : undefined,
      isBlurred: textAt(entry, ["patch", "margin"]) === "blurred",
    };
  });
}

export function addSite(index: number, region: Region, at?: { x: number; y: number }, size?: Size): Edit {
  return {
    do: "set",
    path: ["sites", index],
    value: { site: region, at, patch: size ? { length_mm: size.length, width_mm: size.width } : undefined },
  };
}

export function moveSite(index: number, at: { x: number; y: number }): Edit[] {
  return [
    { do: "set", path: ["sites", index, "at", "x"], value: at.x },
    { do: "set", path: ["sites", index, "at", "y"], value: at.y },
  ];
}

/** The longer measure is the length, whichever way it was dragged. */
export function sizeSite(index: number, { length, width }: Size): Edit[] {
  return [
    { do: "set", path: ["sites", index, "patch", "length_mm"], value: Math.max(length, width) },
    { do: "set", path: ["sites", index, "patch", "width_mm"], value: Math.min(length, width) },
  ];
}

export function removeSite(index: number): Edit[] {
  return [{ do: "remove", path: ["sites", index] }];
}
