/** A place in a visit file in words that a clinician reads: a place on the scalp by its number and region, never by an index. */
import { type KeyPath, readPath } from "../../base/yaml-source.js";
import type { Written } from "../messages.js";
import { textAt } from "./apply.js";

const TOPS: Readonly<Record<string, string>> = {
  sites: "place",
  send_to: "recipient",
  plan: "plan line",
  tests: "test",
  impression: "impression",
  pull_test: "pull test",
};

/** `sites[0].patch.width_mm` -> `place 1 (occipital), patch, width mm` */
export function placeName(path: KeyPath | string, written?: Written): string {
  const steps = typeof path === "string" ? readPath(path) : path;
  return steps
    .map((step, i) => {
      if (typeof step !== "number") return i === 0 ? (TOPS[step] ?? plain(step)) : plain(step);
      const region =
        steps[0] === "sites" && i === 1 && written ? textAt(written, ["sites", step, "site"]) : "";
      return `${step + 1}${region === "" ? "" : ` (${region})`}`;
    })
    .join(", ")
    .replace(/, (\d+)/gu, " $1");
}

const plain = (key: string): string => key.replaceAll("_", " ");
