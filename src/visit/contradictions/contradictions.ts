/** All checks of values that are well written and may not fit each other. */
import type { Look } from "../look.js";

type Check = (look: Look) => void;

const CHECKS: readonly Check[] = [];

/** Runs every check; each reports what it finds. */
export function contradictions(look: Look): void {
  for (const check of CHECKS) check(look);
}
