/** What every command needs: exit codes, today's date, and the visits around those named. */
import { resolve } from "node:path";
import type { Around } from "../batch/prepare.js";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { VisitReader } from "../clinic-folder/visit-reader.js";
import { loadKnowledge } from "../knowledge/load.js";

export const EXIT = { fine: 0, input: 1, usage: 2, failed: 3 } as const;

/** ISO date of today, local. */
export function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** The folder as one run of a command sees it; `clinicFile` is what `--clinic` names. */
export function lookAround(clinicFile: string | undefined): Around {
  return {
    visits: new VisitFiles(),
    clinics: new ClinicFiles(clinicFile === undefined ? undefined : resolve(clinicFile)),
    reader: new VisitReader(loadKnowledge(), today()),
  };
}

export { loadKnowledge };
