/** The register that a visit file belongs to: that of the clinic whose folder it lies in, where one has begun. */

import { dirname } from "node:path";
import { groupBy } from "../base/group.js";
import type { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { liesInside } from "../files/write.js";
import type { Knowledge } from "../knowledge/schema.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { parseVisit } from "../visit/read.js";
import { isChangedSinceSigning } from "../visit/seal.js";
import type { Visit } from "../visit/visit.js";
import { type KnownEditions, knownEditions } from "./editions.js";
import { contentOf } from "./kept.js";
import type { RegisterLine } from "./line.js";
import { hasRegister } from "./places.js";
import { type Register, Registers } from "./read.js";
import { signedLineOf } from "./sign.js";

export class ClinicRegisters {
  private readonly registers = new Registers();
  private readonly byVisit = new WeakMap<Register, ReadonlyMap<string, readonly RegisterLine[]>>();

  constructor(private readonly clinics: ClinicFiles) {}

  /** The folder whose register a visit belongs to, begun or not; a clinic file named from elsewhere has none for it. */
  folderFor(visitFile: string): string | undefined {
    const clinicFile = this.clinics.fileOf(visitFile);
    const folder = clinicFile === undefined ? undefined : dirname(clinicFile);
    return folder !== undefined && liesInside(folder, visitFile) ? folder : undefined;
  }

  /** The folder, where a register has begun in it. */
  begunFor(visitFile: string): string | undefined {
    const folder = this.folderFor(visitFile);
    return folder !== undefined && hasRegister(folder) ? folder : undefined;
  }

  of(folder: string): Register {
    return this.registers.of(folder);
  }

  /** Every line of the visit that can be read, doubtful ones included: what may have been sent counts as sent. */
  linesFor(visitFile: string, visit: string): readonly RegisterLine[] {
    const folder = this.begunFor(visitFile);
    return folder === undefined ? [] : this.linesOf(folder, visit);
  }

  private linesOf(folder: string, visit: string): readonly RegisterLine[] {
    const register = this.of(folder);
    const byVisit = this.byVisit.get(register) ?? linesByVisit(register);
    this.byVisit.set(register, byVisit);
    return byVisit.get(visit) ?? [];
  }

  /** What the register says of one visit's letters; undefined where none has begun. */
  editions(visitFile: string, visit: string): KnownEditions | undefined {
    const folder = this.begunFor(visitFile);
    return folder === undefined ? undefined : knownEditions(this.linesOf(folder, visit), visit);
  }

  /** What the register can tell about a visit that is to be examined. */
  told(
    visitFile: string,
    visit: Visit,
    knowledge: Knowledge,
  ): { readonly editions?: KnownEditions; readonly asSigned?: Visit } {
    const folder = this.begunFor(visitFile);
    if (folder === undefined) return {};
    const lines = this.linesOf(folder, visit.id);
    const asSigned = isChangedSinceSigning(visit)
      ? visitAsSigned(visitFile, folder, lines, visit, knowledge)
      : undefined;
    return { editions: knownEditions(lines, visit.id), ...(asSigned ? { asSigned } : {}) };
  }
}

function linesByVisit({ lines, doubtful }: Register): ReadonlyMap<string, readonly RegisterLine[]> {
  return groupBy([...lines, ...doubtful], (line) => ("visit" in line ? line.visit : ""));
}

/** The visit that a signature was given on, from the content that the register kept, with the marks as they are now. */
function visitAsSigned(
  visitFile: string,
  folder: string,
  lines: readonly RegisterLine[],
  visit: Visit,
  knowledge: Knowledge,
): Visit | undefined {
  const line = signedLineOf(lines, visit);
  const kept = line && contentOf(folder, line.text);
  return (
    kept &&
    parseVisit(Buffer.from(kept.bytes).toString("utf8"), visitFile, knowledge, photosOnDisk(visitFile)).value
  );
}
