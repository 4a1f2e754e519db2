/** Places a mapping names: `visit.date`, `send_to[0].name`, `sites[left parietal].findings.yellow dots`, `site.findings.black dots`. */
import type { Vocabulary } from "../visit/vocabulary.js";

/** A step into a map, into a list by number, or into the list of sites (or pull tests) by region. */
export type Step = string | number | { readonly region: string };

/** Stands for the site that the row itself is about. */
export const ROW_SITE: Step = { region: "" };

const BY_REGION: ReadonlySet<string> = new Set(["sites", "pull_test"]);

/** The steps of a written place, or in words why it is none. */
export function readPlace(written: string, regions: Vocabulary): { steps: Step[] } | { fault: string } {
  const trimmed = written.trim();
  if (trimmed === "site" || trimmed.startsWith("site."))
    return readSteps(`sites${trimmed.slice("site".length) || ".site"}`, regions, true);
  return readSteps(trimmed, regions, false);
}

function readSteps(
  written: string,
  regions: Vocabulary,
  ofRow: boolean,
): { steps: Step[] } | { fault: string } {
  const steps: Step[] = [];
  for (const part of written.split(".")) {
    const match = /^([^[\]]+)(?:\[([^[\]]*)\])?$/u.exec(part.trim());
    const key = match?.[1]?.trim();
    if (!key) return { fault: `"${written}" is not a place of a visit file` };
    steps.push(key);
    const inside = match?.[2]?.trim();
    if (ofRow && steps.length === 1) steps.push(ROW_SITE);
    if (inside === undefined) continue;
    if (/^\d{1,3}$/u.test(inside)) steps.push(Number(inside));
    else if (BY_REGION.has(key)) {
      const region = regions.find(inside);
      if (region === undefined) return { fault: `"${inside}" is not a region of the scalp` };
      steps.push({ region });
    } else return { fault: `"[${inside}]" after ${key} must be a number, counted from 0` };
  }
  return { steps };
}

/** The steps as a visit file counts them: a region stands for any entry of its list. */
export function asKeys(steps: readonly Step[]): (string | number)[] {
  return steps.map((step) => (typeof step === "object" ? 0 : step));
}

/** One word for a step, for comparing places. */
export function stepKey(step: Step): string {
  return typeof step === "object" ? `[${step.region}]` : typeof step === "number" ? `[${step}]` : step;
}

/** One text for a place, equal for equal places. */
export function placeKey(steps: readonly Step[]): string {
  return steps.map(stepKey).join("\u0000");
}
