/** The clinic file that belongs to a visit: `clinic.yaml` beside it or in a folder above. */
import { existsSync, statSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import type { Problem } from "../base/problem.js";
import { type Clinic, readClinic } from "../visit/clinic.js";

export const CLINIC_FILE = "clinic.yaml";

export interface ClinicFound {
  readonly clinic?: Clinic;
  readonly problems: readonly Problem[];
}

/** Finds and reads clinic files, asking each folder and reading each file once; again when the file changes. */
export class ClinicFiles {
  private readonly folders = new Map<string, string | undefined>();
  private readonly read = new Map<string, ClinicFound & { readonly stamp: number }>();

  /** `named` takes the place of whatever stands beside or above a visit. */
  constructor(private readonly named?: string) {}

  fileOf(visitFile: string): string | undefined {
    return this.named ?? this.above(dirname(resolve(visitFile)));
  }

  of(visitFile: string): ClinicFound {
    const file = this.fileOf(visitFile);
    if (file === undefined) return { problems: [noClinicFile(visitFile)] };
    const stamp = statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
    const known = this.read.get(file);
    if (known?.stamp === stamp) return known;
    const { value, problems } = readClinic(file);
    const found = { stamp, problems, ...(value ? { clinic: value } : {}) };
    this.read.set(file, found);
    return found;
  }

  private above(folder: string): string | undefined {
    const known = this.folders.get(folder);
    if (known !== undefined && existsSync(known)) return known;
    const file = join(folder, CLINIC_FILE);
    const parent = dirname(folder);
    const found = existsSync(file) ? file : parent === folder ? undefined : this.above(parent);
    this.folders.set(folder, found);
    return found;
  }
}

function noClinicFile(file: string): Problem {
  return {
    severity: "error",
    id: "no-clinic-file",
    message: "no clinic file: a letter needs a letterhead and the people of the clinic",
    file,
    expected: "a clinic.yaml beside the visit or in a folder above it, or --clinic FILE",
  };
}
