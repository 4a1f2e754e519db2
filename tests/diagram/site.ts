/** Sites as the map needs them, with nothing recorded unless given. */
import type { Patch, Region, Site } from "../../src/visit/visit.js";

export function site(region: Region, patch?: Patch, at?: { x: number; y: number }): Site {
  return {
    site: region,
    findings: [],
    fields: [],
    diametersUm: [],
    photos: [],
    ...(patch === undefined ? {} : { patch }),
    ...(at === undefined ? {} : { at }),
  };
}
