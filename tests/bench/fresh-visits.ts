/** Invented visits that differ as those of real patients do: other names, other places on the map, other photos. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import jpeg from "jpeg-js";
import { sha256 } from "../../src/base/sha256.js";
import { type Generated, generateVisits } from "../batch/generate-visits.js";

/** Sites that the scalp map shows. */
const ON_THE_MAP =
  /^( {2}- site: (?:(?:left|right) (?:parietal|temporal)|frontal|mid-scalp|vertex|occipital)\n)/gmu;

/** From 0 to 0.99, another for each patient and place; both visits of a patient get the same. */
function share(patient: number, place: number): number {
  return ((patient * 37 + place * 59) % 100) / 100;
}

function withOtherPlaces(text: string, patient: number): string {
  let place = 0;
  const at = () => {
    place += 1;
    const [x, y] = [share(patient, place), share(patient + 13, place)].map((v) =>
      (0.35 + v * 0.3).toFixed(3),
    );
    return `    at: { x: ${x}, y: ${y} }\n`;
  };
  return text.replace(/^ {4}at: .*\n/gmu, "").replace(ON_THE_MAP, (line) => line + at());
}

/** A patch of another brightness in one corner, so that no two patients' photos are the same file. */
function withOtherPixels(file: string, patient: number): void {
  const photo = jpeg.decode(readFileSync(file), { useTArray: true });
  for (let y = 0; y < 16; y += 1)
    for (let x = 0; x < 16; x += 1)
      photo.data.fill(patient % 251, (y * photo.width + x) * 4, (y * photo.width + x) * 4 + 3);
  writeFileSync(file, jpeg.encode(photo, 85).data);
  const marks = file.replace(/\.jpe?g$/u, ".marks.yaml");
  if (!existsSync(marks)) return;
  const hash = sha256(readFileSync(file));
  writeFileSync(marks, readFileSync(marks, "utf8").replace(/sha256: "[0-9a-f]+"/u, `sha256: "${hash}"`));
}

/** Writes `count` visits below `folder`; the same count gives the same files. */
export function freshVisits(folder: string, count: number): Generated {
  const generated = generateVisits(folder, count);
  const patients = [...new Set(generated.files.map((file) => dirname(file)))];
  for (const file of generated.files)
    writeFileSync(file, withOtherPlaces(readFileSync(file, "utf8"), patients.indexOf(dirname(file))));
  for (const [number, patient] of patients.entries()) {
    const photos = join(patient, "photos");
    if (existsSync(photos))
      for (const name of readdirSync(photos).filter((name) => /\.jpe?g$/u.test(name)))
        withOtherPixels(join(photos, name), number);
  }
  return generated;
}
