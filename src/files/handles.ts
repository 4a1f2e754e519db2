/** How many more files this process may have open: a session may allow few, and then much fails in odd ways. */
import { closeSync, openSync } from "node:fs";
import { codeOf } from "./not-written.js";

/** Codes of the system for "no more files may be open", for this process and for the whole machine. */
export const TOO_FEW_HANDLES: readonly string[] = ["EMFILE", "ENFILE"];

/** Files that can still be opened, up to `wanted`: opened once more each, then closed. */
export function spareHandles(wanted: number): number {
  const handles: number[] = [];
  try {
    while (handles.length < wanted) handles.push(openSync(process.execPath, "r"));
  } catch (error) {
    if (!TOO_FEW_HANDLES.includes(codeOf(error))) throw error;
  } finally {
    for (const handle of handles) closeSync(handle);
  }
  return handles.length;
}
