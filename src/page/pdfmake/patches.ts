/**
 * Everything that is changed in the engine, in the order in which it is applied: a later patch wraps an earlier one of the same
 * method. `gain` is what it is for, or
 * what a letter costs without it.
 */
import type { Engine } from "./engine.js";
import { patchDrawings } from "./patch-drawings.js";
import { patchFlow } from "./patch-flow.js";
import { patchFonts } from "./patch-fonts.js";
import { patchWords } from "./patch-runs.js";
import { patchTags } from "./patch-tags.js";

export interface Patch {
  readonly name: string;
  readonly gain: string;
  apply(engine: Engine): void;
}

/** Processor time of a letter: 29 ms with all patches (37 letters of the examples, medians of one run). */
export const PATCHES: readonly Patch[] = [
  {
    name: "fonts",
    gain: "195 ms without: font files parsed and words shaped again in each letter",
    apply: patchFonts,
  },
  { name: "words", gain: "48 ms without", apply: patchWords },
  { name: "drawings", gain: "52 ms without", apply: patchDrawings },
  {
    name: "flow",
    gain: "page breaks that look at whole pages; feet set and pages drawn once breaks and setting are chosen",
    apply: patchFlow,
  },
  {
    name: "tags",
    gain: "marked content, a structure tree, words of a line drawn as one piece",
    apply: patchTags,
  },
];
