/**
 * Everything that is changed in the engine, in the order in which it is applied: a later patch wraps an earlier one of the same
 * method. `gain` says what the patch is for; processor time is that of a letter with it off against one with all on.
 */
import type { Engine } from "./engine.js";
import { patchDrawings } from "./patch-drawings.js";
import { patchFile } from "./patch-file.js";
import { patchFlow } from "./patch-flow.js";
import { patchFonts } from "./patch-fonts.js";
import { patchTags } from "./patch-tags.js";
import { patchWords } from "./patch-words.js";

export interface Patch {
  readonly name: string;
  readonly gain: string;
  apply(engine: Engine): void;
}

export const PATCHES: readonly Patch[] = [
  {
    name: "fonts",
    gain: "fonts parsed and words shaped once for all letters: a seventh of the processor time",
    apply: patchFonts,
  },
  { name: "file", gain: "pages drawn only once the setting is chosen", apply: patchFile },
  { name: "words", gain: "words measured once for all passes", apply: patchWords },
  { name: "drawings", gain: "flat drawings drawn straight", apply: patchDrawings },
  {
    name: "flow",
    gain: "breaks chosen by whole pages, and the check that nothing is lost",
    apply: patchFlow,
  },
  { name: "tags", gain: "marked content and the structure tree", apply: patchTags },
];
