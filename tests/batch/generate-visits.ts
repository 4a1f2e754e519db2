/** The example visits, copied with other ids and names, so that a run may have as many patients as a test needs. All invented. */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inPackage } from "../../src/base/root.js";
import { sha256 } from "../../src/base/sha256.js";

const GIVEN = ["Alva", "Brida", "Corin", "Dagny", "Eskil", "Fenja", "Gorm", "Hedda", "Ivo", "Jorun"];
const GIVEN_TOO = ["Kaia", "Loke", "Merle", "Njal", "Oda", "Pell", "Runa", "Sindre", "Tuva", "Ylva"];
const FAMILY = ["Averill", "Brackley", "Castor", "Dunmore", "Ellery", "Farrow", "Garrick", "Hartnell"];
const FAMILY_TOO = ["Ingleby", "Jessop", "Kestrel", "Lorimer", "Maddock", "Norbury", "Ormond", "Penrose"];
const FAMILY_LAST = ["Quill", "Rackham", "Selwyn", "Tarrant", "Underhay", "Vickery", "Wexcombe", "Yardley"];

export interface Generated {
  /** Folder with clinic.yaml and one folder for each patient. */
  readonly folder: string;
  /** Visit files, sorted. */
  readonly files: readonly string[];
}

interface Example {
  readonly patient: string;
  readonly name: string;
  readonly text: string;
}

let examples: Example[] | undefined;

function readExamples(): Example[] {
  const root = inPackage("examples", "patients");
  examples ??= readdirSync(root)
    .sort()
    .flatMap((patient) =>
      readdirSync(join(root, patient))
        .filter((name) => /(?<!\.marks)\.yaml$/u.test(name))
        .sort()
        .map((name) => ({ patient, name, text: readFileSync(join(root, patient, name), "utf8") })),
    );
  return examples;
}

/** Writes `count` visits below `folder`; the same count gives the same files. */
export function generateVisits(folder: string, count: number): Generated {
  const files: string[] = [];
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "clinic.yaml"), readFileSync(inPackage("examples", "clinic.yaml")));
  const shapes = readExamples();
  const patients = [...new Set(shapes.map((e) => e.patient))];
  for (let i = 0; i < count; i += 1) {
    const example = shapes[i % shapes.length];
    if (!example) break;
    const round = Math.floor(i / shapes.length);
    const number = round * patients.length + patients.indexOf(example.patient);
    const id = `TS-${50_000 + number}`;
    mkdirSync(join(folder, id), { recursive: true });
    const photos = join(inPackage("examples", "patients"), example.patient, "photos");
    if (existsSync(photos)) copyPhotos(photos, join(folder, id, "photos"), id);
    const file = join(folder, id, example.name);
    writeFileSync(file, renamed(example.text, id, number, `TS-2027-${String(i + 1).padStart(5, "0")}`));
    files.push(file);
  }
  return { folder, files: files.sort() };
}

/** No two patients share a photo: each copy carries the patient's number in a comment of the file, and its marks name that copy. */
function copyPhotos(from: string, to: string, id: string): void {
  cpSync(from, to, { recursive: true });
  const names = readdirSync(to);
  const isMarks = (name: string) => name.endsWith(".marks.yaml");
  for (const name of names.filter((name) => !isMarks(name))) {
    const bytes = readFileSync(join(to, name));
    const isJpeg = bytes[0] === 0xff && bytes[1] === 0xd8;
    const comment = Buffer.from([0xff, 0xfe, 0, id.length + 2, ...Buffer.from(id, "latin1")]);
    const whole = isJpeg ? [bytes.subarray(0, 2), comment, bytes.subarray(2)] : [bytes, Buffer.from(id)];
    writeFileSync(join(to, name), Buffer.concat(whole));
  }
  for (const name of names.filter(isMarks)) {
    const marks = readFileSync(join(to, name), "utf8");
    const photo = /^ {2}file: "(.+)"$/mu.exec(marks)?.[1] ?? "";
    const hash = sha256(readFileSync(join(to, photo)));
    writeFileSync(join(to, name), marks.replace(/sha256: "[0-9a-f]+"/u, `sha256: "${hash}"`));
  }
}

/** `Alva Kaia` and `Averill-Ingleby Quill`-like names, another pair for each of 51,200 patients. */
export function inventedName(number: number): { given: string; family: string } {
  const pick = (list: readonly string[], at: number) => list[at % list.length] ?? "";
  const a = Math.floor(number / 100);
  return {
    given: `${pick(GIVEN, number)} ${pick(GIVEN_TOO, Math.floor(number / 10))}`,
    family: `${pick(FAMILY, a)}-${pick(FAMILY_TOO, Math.floor(a / 8))} ${pick(FAMILY_LAST, Math.floor(a / 64))}`,
  };
}

function renamed(text: string, id: string, number: number, visit: string): string {
  const old = (pattern: RegExp) => pattern.exec(text)?.[1] ?? "\0";
  const patient = old(/^patient:\n {2}id: (\S+)/mu);
  const given = old(/given: ([^,}]+)/u);
  const family = old(/family: ([^,}]+?) ?\}/u);
  const name = inventedName(number);
  return text
    .replace(/^(visit:\n {2}id: )\S+/mu, `$1${visit}`)
    .replaceAll(patient, id)
    .replaceAll(family, name.family)
    .replaceAll(new RegExp(`\\b${given}\\b`, "gu"), name.given);
}
