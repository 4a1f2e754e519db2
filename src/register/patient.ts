/** Everything of one patient in a clinic's folder: visits, photos, made letters. Refused while it is doubtful whose something is. */
import { existsSync, lstatSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Problem } from "../base/problem.js";
import { ClinicPeople } from "../clinic-folder/clinic-people.js";
import { folderProblem } from "../clinic-folder/find.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { liesInside } from "../files/write.js";
import { marksFileOf } from "../picture/marks.js";

/** A doubt that leaves no doubt whose the visit is. */
const HARMLESS = new Set(["name-spelled-differently"]);

export interface PatientFiles {
  /** Visit files, by path. */
  readonly visits: readonly string[];
  /** Photos that these visits name, and the marks on them, by path. */
  readonly photos: readonly string[];
  /** Errors: whose something is, is doubtful. Warnings: files that cannot be read may be this patient's too. */
  readonly problems: readonly Problem[];
}

/** The files of a patient number, letter by letter as it is written, among all visits of the clinic in `folder`. */
export function filesOfPatient(folder: string, number: string): PatientFiles {
  const all = new VisitFiles();
  const { files, notTaken } = all.below(folder);
  const people = new ClinicPeople({ visits: all, files, oneClinic: false });
  const visits = files.filter((file) => all.scan(file).identity?.patient === number);
  const doubts = visits.flatMap((file) =>
    people
      .problems(file)
      .filter(({ id, severity }) => !HARMLESS.has(id) && severity !== "note")
      .map((problem): Problem => ({ ...problem, file, severity: "error" })),
  );
  const unread = files.filter((file) => !all.scan(file).identity).map(unreadable);
  const photos = visits.flatMap((file) =>
    all
      .scan(file)
      .photos.flatMap((photo) => [photo, marksFileOf(photo)])
      .map((photo) => join(dirname(file), photo))
      .filter((photo) => liesInside(folder, photo) && isFile(photo)),
  );
  return {
    visits,
    photos: [...new Set(photos)],
    problems: [...doubts, ...unread, ...notTaken.map(folderProblem)],
  };
}

/** Photos of a patient that no visit of anybody else names. */
export function ownPhotos(folder: string, { visits, photos }: PatientFiles): string[] {
  const own = new Set(visits);
  const all = new VisitFiles();
  const others = new Set(
    all
      .below(folder)
      .files.filter((file) => !own.has(file))
      .flatMap((file) =>
        all
          .scan(file)
          .photos.flatMap((photo) => [photo, marksFileOf(photo)])
          .map((photo) => join(dirname(file), photo)),
      ),
  );
  return photos.filter((photo) => !others.has(photo));
}

export function bytesIfThere(file: string): Uint8Array | undefined {
  return existsSync(file) && isFile(file) ? readFileSync(file) : undefined;
}

const isFile = (file: string): boolean => lstatSync(file, { throwIfNoEntry: false })?.isFile() === true;

function unreadable(file: string): Problem {
  return {
    severity: "warning",
    id: "patient-not-known",
    message: "it cannot be made out whose visit this is, so it is left where it is",
    file,
    expected: "run whorl check on it, then this command again",
  };
}
