/** How far a site was assessed: what was not looked for is never told as what was not seen. */
import type { Site } from "./visit.js";

/**
 * seen: at least one finding or sign. none seen: they were looked for, and none was there. counted only: hairs or diameters
 * were counted and no finding was looked for. not assessed: none of these.
 */
export type Assessment = "seen" | "none seen" | "counted only" | "not assessed";

export function assessmentOf(site: Pick<Site, "findings" | "signs" | "fields" | "diametersUm">): Assessment {
  const signs = Object.values(site.signs ?? {});
  if (site.findings.some(({ seen }) => seen.state === "present") || signs.includes(true)) return "seen";
  if (site.findings.length > 0 || signs.length > 0) return "none seen";
  return site.fields.length > 0 || site.diametersUm.length > 0 ? "counted only" : "not assessed";
}
