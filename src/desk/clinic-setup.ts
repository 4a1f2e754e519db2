/**
 * The clinic file from the page: shown as it stands, tried with its changes before anything is written, and written only on the text
 * that was shown. Comments and keys that the form does not know stay where they are.
 */
import { existsSync, lstatSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Problem } from "../base/problem.js";
import { checkClinic, sampleLetter } from "../batch/check-clinic.js";
import { logoProblem } from "../batch/pictures.js";
import { CLINIC_FILE } from "../clinic-folder/clinic-file.js";
import { writeWhole } from "../files/write.js";
import { windowSheet } from "../page/window-sheet.js";
import { type Clinic, clinicAt } from "../visit/clinic.js";
import { ADDRESS_WINDOWS } from "../visit/clinic-schema.js";
import { clinicJsonSchema } from "../visit/json-schema.js";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { CannotEdit, editText, writtenIn } from "./edit-yaml.js";
import { HttpError } from "./http-error.js";
import type { ClinicState, ClinicTried, Edit, Written } from "./messages.js";
import { mapIn, wordIn } from "./read-listed.js";
import { Changed, hashOf } from "./session.js";

/** The text of a file that is not there yet. */
const NO_TEXT = "";
const MOST_LOGO = 4 * 1024 * 1024;
export const MOST_LOGO_BODY = Math.ceil((MOST_LOGO * 4) / 3) + 4096;

export class ClinicSetup {
  private readonly schema = clinicJsonSchema();

  constructor(private readonly desk: Desk) {}

  /** The file of the folder's visits, there or not. */
  private get file(): string {
    return (
      this.desk.clinics.fileOf(join(this.desk.folder, "any.yaml")) ?? join(this.desk.folder, CLINIC_FILE)
    );
  }

  state(): ClinicState {
    const { file } = this;
    const isThere = existsSync(file);
    const text = this.text();
    return {
      file,
      isThere,
      hash: hashOf(text),
      written: writtenIn(text),
      problems: isThere ? clinicAt(text, file).problems : [],
      windows: ADDRESS_WINDOWS,
    };
  }

  /** What `whorl check` would say of the file with these changes, and which of it keeps them from being written. */
  async tried(edits: readonly Edit[]): Promise<ClinicTried> {
    const { file } = this;
    const before = this.text();
    const text = this.edited(before, edits);
    const problems = await checkClinic(file, this.desk.knowledge, clinicAt(text, file));
    // An error that stands in the file already, such as a slip in a key that the form does not show, is no reason to write nothing.
    const known = new Set(existsSync(file) ? clinicAt(before, file).problems.map(sameProblem) : []);
    const inTheWay = problems.filter((p) => p.severity === "error" && !known.has(sameProblem(p)));
    return { problems, inTheWay: [...inTheWay, ...this.stillNamed(before, text)] };
  }

  /** Writes the file on the text that `base` names; throws Changed when that is no longer the file's. */
  async save(base: string, edits: readonly Edit[]): Promise<ClinicState> {
    const { file } = this;
    if (lstatSync(file, { throwIfNoEntry: false })?.isSymbolicLink())
      throw new HttpError(
        409,
        "The clinic file is a symbolic link. Change the file that it points to by hand.",
      );
    const { inTheWay } = await this.tried(edits);
    const before = this.text();
    if (hashOf(before) !== base) throw new Changed("the clinic file changed underneath");
    if (inTheWay.length > 0)
      throw new HttpError(422, "The clinic file cannot be written like this.", inTheWay);
    writeWhole(file, this.edited(before, edits));
    this.desk.list.forget();
    return this.state();
  }

  /** A letter of an invented patient as this clinic would send it. What is still missing stands in its place as a word. */
  async letter(edits: readonly Edit[]): Promise<Uint8Array> {
    const { value, problems } = await sampleLetter(this.clinic(edits), this.desk.knowledge);
    if (!value) throw new HttpError(422, "No letter can be made like this.", problems);
    return value;
  }

  async window(edits: readonly Edit[]): Promise<Uint8Array> {
    const { name, lines, paper, addressWindow, fonts } = this.clinic(edits);
    if (addressWindow === "none") throw new HttpError(422, "Choose the window of the envelope first.");
    const { value, problems } = await windowSheet({
      clinic: name,
      lines,
      paper,
      window: addressWindow,
      date: this.desk.today(),
      ...(fonts === undefined ? {} : { fonts }),
    });
    if (!value) throw new HttpError(422, "No sheet can be made like this.", problems);
    return value;
  }

  /** Keeps a logo beside the clinic file, once it can be printed; never over another file. */
  addLogo(name: string, bytes: Uint8Array): { readonly logo: string } {
    const ending = /\.(svg|png|jpe?g)$/iu.exec(name)?.[1]?.toLowerCase();
    if (ending === undefined) throw new HttpError(422, "A logo is an SVG, PNG or JPEG file.");
    if (bytes.length > MOST_LOGO) throw new HttpError(422, "This logo is larger than 4 MB.");
    const folder = dirname(this.file);
    for (let number = 1; number < 100; number++) {
      const logo = `logo${number === 1 ? "" : `-${number}`}.${ending}`;
      const path = join(folder, logo);
      if (existsSync(path) && !Buffer.from(bytes).equals(readFileSync(path))) continue;
      const fault = logoProblem(path, bytes);
      if (fault) throw new HttpError(422, `This logo cannot be printed: ${fault.message}.`);
      if (!existsSync(path)) writeWhole(path, bytes);
      return { logo };
    }
    throw new HttpError(422, "There are too many logos in the clinic's folder.");
  }

  private text(): string {
    const { file } = this;
    if (!existsSync(file)) return NO_TEXT;
    const { value, problems } = readText(file);
    if (value === undefined) throw new HttpError(422, "The clinic file cannot be read.", problems);
    return value;
  }

  private edited(text: string, edits: readonly Edit[]): string {
    try {
      return editText(text, edits, this.schema);
    } catch (error) {
      if (error instanceof CannotEdit) throw new HttpError(422, error.message);
      throw error;
    }
  }

  private clinic(edits: readonly Edit[]): Clinic {
    const text = this.edited(this.text(), edits);
    const whole = this.edited(text, missing(writtenIn(text) ?? {}));
    const { value, problems } = clinicAt(whole, this.file);
    if (!value) throw new HttpError(422, "The clinic file has errors.", problems);
    return value;
  }

  /** People who were taken out though visits of the folder name them. */
  private stillNamed(before: string, after: string): Problem[] {
    const there = Object.keys(mapIn(writtenIn(after) ?? {}, "people") ?? {});
    const gone = Object.keys(mapIn(writtenIn(before) ?? {}, "people") ?? {}).filter(
      (key) => !there.includes(key),
    );
    if (gone.length === 0) return [];
    const texts = this.desk.folderLook.now().files.map((file) => readText(file).value ?? "");
    return gone.flatMap((key): Problem[] => {
      const count = texts.filter((text) => text.includes(key)).length;
      if (count === 0) return [];
      const message = `${count} ${count === 1 ? "visit names" : "visits name"} ${key}`;
      const expected = "leave the person in, without the right to sign";
      return [{ severity: "error", id: "unknown-person", message, path: `people.${key}`, expected }];
    });
  }
}

const sameProblem = ({ id, path, message }: Problem): string => `${id} ${path ?? ""} ${message}`;

/** Words that stand in the preview where nothing has been written yet. */
function missing(written: { readonly [key: string]: Written }): Edit[] {
  const lacks = (key: string) => wordIn(written, key).trim() === "";
  const set = (path: Edit["path"], value: string | readonly string[]): Edit => ({ do: "set", path, value });
  const people = mapIn(written, "people") ?? {};
  const named = Object.keys(people).length > 0 ? people : { somebody: null };
  return [
    ...(lacks("name") ? [set(["name"], "Name of the clinic")] : []),
    ...(Array.isArray(written.lines) && written.lines.length > 0 ? [] : [set(["lines"], ["Address"])]),
    ...(lacks("phone") ? [set(["phone"], "000")] : []),
    ...Object.entries(named).flatMap(([key, person]) => [
      ...(wordIn(person, "name") === "" ? [set(["people", key, "name"], "Name")] : []),
      ...(wordIn(person, "role") === "" ? [set(["people", key, "role"], "Role")] : []),
    ]),
  ];
}
