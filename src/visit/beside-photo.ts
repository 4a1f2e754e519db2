/** The marks files that lie beside the photos of a visit on disk, and the hashes of those photos. */
import { readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { sha256 } from "../base/sha256.js";
import { marksFileOf } from "../picture/marks.js";
import { decodeText, MAX_BYTES, tooBig } from "./decode.js";
import type { BesidePhoto, PhotoReader } from "./marked-photos.js";
import type { Visit } from "./visit.js";

/** Larger than any photo that a letter takes. */
const MOST_PHOTO = 64 * 1024 * 1024;

/** Each photo is looked at once, however often it is asked for; `seen` holds the hashes of the bytes read, by path. */
export interface PhotosOnDisk {
  readonly beside: PhotoReader;
  readonly seen: ReadonlyMap<string, string>;
}

export function photosOnDisk(visitFile: string): PhotosOnDisk {
  const folder = dirname(visitFile);
  const known = new Map<string, BesidePhoto | undefined>();
  const seen = new Map<string, string>();
  const look = (photo: string): BesidePhoto | undefined => {
    if (leadsAway(photo)) return undefined;
    const file = join(folder, marksFileOf(photo));
    const marks = bytesOf(file, MAX_BYTES);
    if (marks === undefined) return undefined;
    if (typeof marks === "number") return { text: undefined, problems: [tooBig(marks, file)] };
    seen.set(file, sha256(marks));
    const { text, problem } = decodeText(marks, file);
    const picture = bytesOf(join(folder, photo), MOST_PHOTO);
    if (picture === undefined || typeof picture === "number")
      return { text, problems: problem ? [problem] : [] };
    const hash = sha256(picture);
    seen.set(join(folder, photo), hash);
    return { text, problems: problem ? [problem] : [], sha256: hash };
  };
  const beside = (photo: string): BesidePhoto | undefined => {
    if (!known.has(photo)) known.set(photo, look(photo));
    return known.get(photo);
  };
  return { beside, seen };
}

/** A path that leads out of the folder is refused where the visit is checked; nothing is read of it here. */
const leadsAway = (photo: string): boolean =>
  /^[/~]|^[a-z]:|\\|\0/iu.test(photo) || photo.split("/").includes("..");

/** One hash over the bytes of a visit's photos and of the marks beside them, in hex; undefined without photos. */
export function photosHash({ sites }: Visit, visitFile: string): string | undefined {
  const names = [...new Set(sites.flatMap(({ photos }) => photos.map(({ file }) => file)))].sort();
  if (names.length === 0) return undefined;
  const hashIn = (name: string, most: number): string => {
    const bytes = leadsAway(name) ? undefined : bytesOf(join(dirname(visitFile), name), most);
    return typeof bytes === "object" ? sha256(bytes) : "";
  };
  const all = names.map((name) => [name, hashIn(name, MOST_PHOTO), hashIn(marksFileOf(name), MAX_BYTES)]);
  return sha256(JSON.stringify(all)).slice(0, 32);
}

/** The bytes of a plain file; its size where that is more than `most`; undefined where there is none. */
function bytesOf(file: string, most: number): Uint8Array | number | undefined {
  try {
    const stat = statSync(file);
    if (!stat.isFile()) return undefined;
    return stat.size > most ? stat.size : readFileSync(file);
  } catch {
    return undefined;
  }
}
