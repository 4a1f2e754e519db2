/**
 * Photos and their marks at the desk: a photo is kept whole, as it came, beside its visit; its marks are written only on the text
 * they were made on, as a visit is.
 */
import { existsSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { z } from "zod";
import { hasError } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { liesInside, writeWhole } from "../files/write.js";
import { readImageHead } from "../page/drawing/image-size.js";
import { PHOTO_LIMITS } from "../page/photos.js";
import { agreement } from "../picture/agreement.js";
import { type Marks, marksFileOf } from "../picture/marks.js";
import { readMarks } from "../picture/read-marks.js";
import { writeMarks } from "../picture/write-marks.js";
import { markWords, readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { visitPath } from "./folder.js";
import { HttpError } from "./http-error.js";
import type { MarksAgreed, MarksState } from "./messages.js";
import { Changed, hashOf, isSigned } from "./session.js";

const file = z.string().min(1).max(500);
const photo = z.string().min(1).max(200);
const ASKED = {
  photo: z.strictObject({ file, photo }),
  agree: z.strictObject({ file, photo, marks: z.string().max(400_000) }),
  marks: z.strictObject({ file, photo, base: z.string().max(100), marks: z.record(z.string(), z.unknown()) }),
  add: z.strictObject({
    file,
    site: z.string().max(60),
    bytes: z.string().max(Math.ceil((PHOTO_LIMITS.bytes * 4) / 3) + 8),
  }),
};

/** A request with a photo in it is larger than any other. */
export const MOST_PHOTO_BODY = Math.ceil((PHOTO_LIMITS.bytes * 4) / 3) + 4096;

type Body = Readonly<Record<string, unknown>>;

export class Photos {
  constructor(private readonly desk: Desk) {}

  /** The photo as it came. */
  bytes(body: Body): { readonly kind: "jpeg" | "png"; readonly bytes: Uint8Array } {
    const asked = read(ASKED.photo, body);
    const bytes = photoIn(this.pathOf(asked));
    const head = readImageHead(bytes);
    if (!head) throw new HttpError(422, "The photo is not a readable JPEG or PNG.");
    return { kind: head.kind, bytes };
  }

  marks(body: Body): MarksState {
    return this.state(this.pathOf(read(ASKED.photo, body)));
  }

  /** How far another person's marks of the photo agree with those beside it. */
  agree(body: Body): MarksAgreed {
    const asked = read(ASKED.agree, body);
    const { marks, photo } = this.state(this.pathOf(asked));
    if (!marks) throw new HttpError(422, "There are no marks here yet that can be read.");
    const other = readMarks(asked.marks, "the other file", markWords(this.desk.knowledge), photo);
    if (!other.value || hasError(other.problems))
      throw new HttpError(422, "The other marks cannot be compared.", other.problems);
    const { shared, onlyFirst: _, onlySecond: __, ...told } = agreement(marks, other.value);
    const [here, there] = [0, 1].map((side) => new Set(shared.map((pair) => pair[side])));
    const alone = ({ hairs }: Marks, known: Set<number | undefined> | undefined) =>
      hairs.flatMap(({ at }, i) => (known?.has(i) ? [] : [at]));
    return {
      shared: shared.length,
      onlyHere: alone(marks, here),
      onlyThere: alone(other.value, there),
      ...told,
    };
  }

  /** Writes marks on the text that `base` names; throws Changed when that is no longer the file's. */
  write(body: Body): MarksState {
    const asked = read(ASKED.marks, body);
    const visit = visitPath(this.desk.folder, asked.file);
    if (isSigned(readText(visit).value ?? ""))
      throw new HttpError(409, "The visit is signed. Reopen it as a draft to change its marks.");
    const path = this.pathOf(asked);
    const before = this.state(path);
    if (before.hash !== asked.base) throw new Changed("the marks changed underneath");
    const marks = { ...asked.marks, photo: { ...before.photo, file: path.split(/[\\/]/u).at(-1) ?? "" } };
    const words = markWords(this.desk.knowledge);
    let text: string;
    try {
      text = writeMarks(marks as unknown as Marks, words);
    } catch {
      throw new HttpError(400, "The request is not one that the page makes.");
    }
    const { problems } = readMarks(text, marksFileOf(path), words, before.photo);
    if (problems.some(({ id }) => id === "marks-shape" || id === "marks-key" || id === "yaml-syntax"))
      throw new HttpError(422, "These marks cannot be written.", problems);
    writeWhole(marksFileOf(path), text);
    return this.state(path);
  }

  /** Keeps a new photo beside the visit; returns its name as the visit writes it. Never over another. */
  add(body: Body): { readonly photo: string } {
    const asked = read(ASKED.add, body);
    const visit = visitPath(this.desk.folder, asked.file);
    const text = readText(visit).value ?? "";
    if (isSigned(text)) throw new HttpError(409, "The visit is signed. Reopen it as a draft to add a photo.");
    const bytes = Buffer.from(asked.bytes, "base64");
    const head = readImageHead(bytes);
    if (!head) throw new HttpError(422, "This is no readable JPEG or PNG. Save the photo as one of the two.");
    if (head.widthPx * head.heightPx > PHOTO_LIMITS.pixels || bytes.length > PHOTO_LIMITS.bytes)
      throw new HttpError(
        422,
        "This photo is larger than a letter can take: at most 24 megapixels and 24 MB.",
      );
    const folder = dirname(visit);
    const date = /^\s*date:\s*(\d{4}-\d{2}-\d{2})/mu.exec(text)?.[1];
    const stem = [date, asked.site.replaceAll(/[^\p{L}\p{N}]+/gu, "-").toLowerCase() || "photo"]
      .filter(Boolean)
      .join("-");
    const ending = head.kind === "png" ? "png" : "jpg";
    for (let number = 1; number < 1000; number++) {
      const name = `photos/${stem}-${number}.${ending}`;
      const path = join(folder, name);
      if (!liesInside(folder, path)) throw new HttpError(400, "No such photo.");
      // Marks of a photo that is gone must not fall upon a new one.
      if (existsSync(path) || existsSync(marksFileOf(path))) continue;
      writeWhole(path, bytes);
      return { photo: name };
    }
    throw new HttpError(422, "There are too many photos of this place.");
  }

  private pathOf(asked: { readonly file: string; readonly photo: string }): string {
    const folder = dirname(visitPath(this.desk.folder, asked.file));
    const path = join(folder, asked.photo);
    const isPlain = !/[\0\\:]|^[/~]/u.test(asked.photo) && !asked.photo.split("/").includes("..");
    if (!isPlain || !/\.(?:jpe?g|png)$/iu.test(asked.photo) || !liesInside(folder, path))
      throw new HttpError(400, "No such photo.");
    return path;
  }

  private state(path: string): MarksState {
    const bytes = photoIn(path);
    const head = readImageHead(bytes);
    if (!head) throw new HttpError(422, "The photo is not a readable JPEG or PNG.");
    const turned = head.orientation > 4;
    const photo = {
      sha256: sha256(bytes),
      widthPx: turned ? head.heightPx : head.widthPx,
      heightPx: turned ? head.widthPx : head.heightPx,
    };
    const marksFile = marksFileOf(path);
    if (!existsSync(marksFile)) return { hash: "", marks: null, problems: [], photo };
    const { value: text, problems } = readText(marksFile);
    if (text === undefined) return { hash: "unreadable", marks: null, problems, photo };
    const found = readMarks(text, marksFile, markWords(this.desk.knowledge), photo);
    const marks = found.value && !hasError(found.problems) ? found.value : null;
    return { hash: hashOf(text), marks, problems: found.problems, photo };
  }
}

function photoIn(path: string): Uint8Array {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (!stat?.isFile() || stat.size > PHOTO_LIMITS.bytes) throw new HttpError(404, "The photo is not there.");
  return readFileSync(path);
}

function read<S extends z.ZodType>(schema: S, body: Body): z.output<S> {
  const found = schema.safeParse(body);
  if (!found.success) throw new HttpError(400, "The request is not one that the page makes.");
  return found.data;
}
