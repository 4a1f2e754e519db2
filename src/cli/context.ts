/** What every command needs: exit codes, today's date, and the visits around those named. */
import { resolve } from "node:path";
import { lookAround } from "../batch/prepare.js";
import { loadKnowledge } from "../knowledge/load.js";

export const EXIT = { fine: 0, input: 1, usage: 2, failed: 3 } as const;

/** ISO date of today, local. */
export function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The visits that a command names and what lies around them; `clinicFile` is what `--clinic` names. */
export function look(paths: readonly string[], clinicFile: string | undefined) {
  return lookAround(paths, {
    knowledge: loadKnowledge(),
    today: today(),
    ...(clinicFile === undefined ? {} : { clinicFile: resolve(clinicFile) }),
  });
}

export { loadKnowledge };
