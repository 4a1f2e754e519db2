/** Reads the photos a visit names and the clinic's logo: inside their folder only, stripped of metadata, refused when broken. */

import { existsSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Problem } from "../base/problem.js";
import type { PICTURE_PROBLEMS } from "../base/problem-table.js";
import { sha256 } from "../base/sha256.js";
import { liesInside } from "../files/write.js";
import type { Photo, Pictures } from "../letter/pictures.js";
import { inlineStyles } from "../page/drawing/inline-styles.js";
import { PHOTO_LIMITS, type PhotoMarks, preparePhoto } from "../page/photos.js";
import { numbered } from "../picture/numbered.js";
import { scaleOf } from "../picture/scale.js";
import type { Clinic } from "../visit/clinic.js";
import type { Visit } from "../visit/visit.js";

/** Anything in a logo drawing that could run, load or expand. */
const UNSAFE_DRAWING =
  /<script|<foreignObject|<!ENTITY|<!DOCTYPE|\son\w+\s*=|(?:href|src)\s*=\s*["'](?!#)|url\(\s*["']?(?!#)|@import/iu;

/** Everything drawn from files. Problems are errors: a letter that promises a picture is not made without it. */
export function readPictures(
  visitFile: string,
  visit: Visit,
  clinic: Clinic,
): { pictures: Pictures; problems: Problem[]; read: Record<string, string> } {
  const problems: Problem[] = [];
  const photos: Photo[] = [];
  const bytes: Record<string, Uint8Array> = {};
  /** Hashes of the files as they were read, by path. */
  const hashes: Record<string, string> = {};
  const folder = dirname(visitFile);
  for (const [siteIndex, site] of visit.sites.entries()) {
    for (const [n, photo] of site.photos.entries()) {
      const path = `sites[${siteIndex}].photos[${n}].file`;
      const report = (id: keyof typeof PICTURE_PROBLEMS, message: string) =>
        problems.push({ severity: "error", id, message, file: visitFile, path, found: photo.file });
      const file = join(folder, photo.file);
      if (!liesInside(folder, file)) {
        report("photo-outside", `the photo "${photo.file}" is not inside the visit's folder`);
        continue;
      }
      const read = readUpTo(file, PHOTO_LIMITS.bytes);
      if (!read) {
        report("photo-not-found", `the photo "${photo.file}" is not there`);
        continue;
      }
      hashes[file] = sha256(read);
      const marks = visit.marks?.find((m) => m.siteIndex === siteIndex && m.photoIndex === n)?.marks;
      const scale = marks && scaleOf(marks);
      const drawn = marks && numbered(marks);
      const { value, problems: found } = preparedOnce(
        `${hashes[file]} ${file}`,
        read,
        marks && scale ? marks.photo.widthPx * scale.mmPerPx : visit.scope.fieldDiameterMm,
        drawn,
      );
      for (const p of found) problems.push({ ...p, file: visitFile, path, found: photo.file });
      if (!value) continue;
      const id = `p${photos.length}`;
      bytes[id] = value.bytes;
      photos.push({
        id,
        siteIndex,
        caption: photo.caption ?? "",
        barMm: value.barMm ?? null,
        ...(drawn ? { marks: drawn } : {}),
      });
    }
  }
  const logo = clinic.logo === undefined ? undefined : readLogo(clinic.logo, bytes, problems);
  return { pictures: { ...(logo ? { logo } : {}), photos, bytes }, problems, read: hashes };
}

/** Why a logo cannot be printed. */
export function logoProblem(file: string, bytes: Uint8Array): Problem | undefined {
  const problems: Problem[] = [];
  readLogo(file, {}, problems, bytes);
  return problems[0];
}

function readLogo(
  file: string,
  bytes: Record<string, Uint8Array>,
  problems: Problem[],
  read = readUpTo(file, PHOTO_LIMITS.bytes),
): string | undefined {
  const report = (message: string) => {
    problems.push({ severity: "error", id: "logo-unreadable", message, path: "logo", found: file });
    return undefined;
  };
  if (!read) return report("the clinic's logo is not there");
  if (!/\.svg$/iu.test(file)) {
    const { value, problems: found } = preparedOnce(`${sha256(read)} ${file}`, read);
    if (!value) return report(found[0]?.message ?? "the logo cannot be read");
    bytes.logo = value.bytes;
    return '<img src="photo:logo" alt="">';
  }
  const written = Buffer.from(read)
    .toString("utf8")
    .replace(/^\uFEFF?(?:\s|<\?xml[^>]*\?>|<!DOCTYPE svg[^>[]*>|<!--[\s\S]*?-->)*/u, "");
  // What could run, load or expand is refused in the style sheet too, before anything is made of it.
  const isStyled = /<style[\s>]|\s(?:style|class)\s*=/u.test(written);
  const text = isStyled && !UNSAFE_DRAWING.test(written) ? inlineStyles(written) : written;
  if (text === undefined) return report("the logo's style sheet is more than plain rules");
  if (!/^<svg[\s>]/u.test(text) || UNSAFE_DRAWING.test(text))
    return report("the logo is no plain SVG drawing");
  // Without a name of its own it is an ornament, as a logo that is a photograph is: the clinic's name stands beside it.
  const named = /^<svg[^>]*\saria-(?:label|hidden)\s*=/u.test(text);
  return named ? text.trim() : text.trim().replace(/^<svg/u, '<svg aria-hidden="true"');
}

/** A clinic's logo comes with every visit, and a visit's photos with every document made of it anew. */
const MOST_KEPT = 8;

/** The longest unused first. */
const kept = new Map<string, ReturnType<typeof preparePhoto>>();

/** The picture made ready, or as it was made ready before from the same bytes of the same file, which `name` stands for. */
function preparedOnce(
  name: string,
  bytes: Uint8Array,
  widthMm?: number,
  marks?: PhotoMarks,
): ReturnType<typeof preparePhoto> {
  const key = `${name} ${widthMm} ${JSON.stringify(marks)}`;
  const ready = kept.get(key) ?? preparePhoto(bytes, widthMm, marks);
  kept.delete(key);
  kept.set(key, ready);
  const [oldest] = kept.keys();
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  return ready;
}

/** The file's bytes, or undefined when it is missing, no plain file, or too large to be a picture. */
function readUpTo(file: string, most: number): Uint8Array | undefined {
  if (!existsSync(file)) return undefined;
  const stat = statSync(file);
  return stat.isFile() && stat.size <= most ? readFileSync(file) : undefined;
}
