/** What the desk does with photos and marks that no page would send. */
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import { deskFolder } from "../../src/desk/folder.js";
import { HttpError } from "../../src/desk/http-error.js";
import { Photos } from "../../src/desk/photos.js";
import { Changed } from "../../src/desk/session.js";
import { plainJpeg } from "../page/sample-photos.js";
import { copyOfExamples, knowledge, TODAY } from "./open-desk.js";

const SIGNED = "TS-40417/2026-03-12.yaml";
const DRAFT = "TS-40417/draft.yaml";
const PHOTO = "photos/left-1.jpg";
let folder = "";
let photos: Photos;
let remove: () => void;
beforeAll(() => {
  const copy = copyOfExamples();
  ({ remove } = copy);
  folder = deskFolder(copy.folder);
  photos = new Photos(
    openDesk({ folder, knowledge: knowledge(), clinics: new ClinicFiles(copy.clinic), today: () => TODAY }),
  );
  const text = readFileSync(join(folder, SIGNED), "utf8");
  writeFileSync(join(folder, DRAFT), text.replace("status: signed", "status: draft"));
});
afterAll(() => remove());

function refusal(act: () => unknown): number | string {
  try {
    act();
    return "not refused";
  } catch (error) {
    return error instanceof HttpError ? error.status : error instanceof Changed ? "changed" : String(error);
  }
}

it("gives the photo as it came, and its marks with what they were set on", () => {
  const { kind, bytes } = photos.bytes({ file: DRAFT, photo: PHOTO });
  expect(kind).toBe("jpeg");
  expect(Buffer.from(bytes).equals(readFileSync(join(folder, "TS-40417", PHOTO)))).toBe(true);
  const state = photos.marks({ file: DRAFT, photo: PHOTO });
  expect(state.marks?.hairs).toHaveLength(84);
  expect(state.photo).toEqual({
    sha256: state.marks?.photo.sha256,
    widthPx: 720,
    heightPx: 720,
  });
});

it.each([
  "../clinic.jpg",
  "/etc/hostname.jpg",
  "photos/../../x.jpg",
  "C:\\x.jpg",
  "2026-03-12.yaml",
  "photos/none.jpg",
])("gives nothing of %s", (photo) => {
  expect(refusal(() => photos.bytes({ file: DRAFT, photo }))).toBe(photo === "photos/none.jpg" ? 404 : 400);
});

it("follows no link out of the folder", () => {
  symlinkSync("/etc", join(folder, "TS-40417", "away"));
  writeFileSync(join(folder, "..", "outside.jpg"), plainJpeg(20, 20));
  symlinkSync(join(folder, "..", "outside.jpg"), join(folder, "TS-40417", "photos", "link.jpg"));
  expect(refusal(() => photos.bytes({ file: DRAFT, photo: "photos/link.jpg" }))).toBe(400);
  expect(refusal(() => photos.bytes({ file: DRAFT, photo: "away/x.jpg" }))).toBe(400);
});

it("writes marks only on the text they were made on, and none of a signed visit", () => {
  const { marks, hash } = photos.marks({ file: DRAFT, photo: PHOTO });
  const less = { ...marks, hairs: marks?.hairs.slice(1) };
  expect(refusal(() => photos.write({ file: DRAFT, photo: PHOTO, base: "other", marks: less }))).toBe(
    "changed",
  );
  expect(refusal(() => photos.write({ file: SIGNED, photo: PHOTO, base: hash, marks: less }))).toBe(409);
  expect(refusal(() => photos.write({ file: DRAFT, photo: PHOTO, base: hash, marks: { hairs: 3 } }))).toBe(
    400,
  );
  expect(photos.marks({ file: DRAFT, photo: PHOTO }).hash).toBe(hash);
  const after = photos.write({ file: DRAFT, photo: PHOTO, base: hash, marks: less });
  expect(after.marks?.hairs).toHaveLength(83);
  expect(refusal(() => photos.write({ file: DRAFT, photo: PHOTO, base: hash, marks: less }))).toBe("changed");
});

it("cannot be told by the page which picture the marks were set on", () => {
  const { marks, hash, photo } = photos.marks({ file: DRAFT, photo: PHOTO });
  const lie = { ...marks, photo: { file: "x", sha256: "0".repeat(64), widthPx: 1, heightPx: 1 } };
  const { marks: after } = photos.write({ file: DRAFT, photo: PHOTO, base: hash, marks: lie });
  expect(after?.photo).toEqual({ ...photo, file: "left-1.jpg" });
});

it("keeps a new photo whole under a name of its own, never over another, and nothing that is no photo", () => {
  const bytes = Buffer.from(plainJpeg(30, 20));
  const add = (site: string) => photos.add({ file: DRAFT, site, bytes: bytes.toString("base64") }).photo;
  expect([add("left parietal"), add("left parietal"), add("../../up")]).toEqual([
    "photos/2026-03-12-left-parietal-1.jpg",
    "photos/2026-03-12-left-parietal-2.jpg",
    "photos/2026-03-12--up-1.jpg",
  ]);
  expect(
    readFileSync(join(folder, "TS-40417", "photos", "2026-03-12-left-parietal-1.jpg")).equals(bytes),
  ).toBe(true);
  // Marks of a photo that is gone must not fall upon a new one.
  writeFileSync(join(folder, "TS-40417", "photos", "2026-03-12-vertex-1.marks.yaml"), "format: 1\n");
  expect(add("vertex")).toBe("photos/2026-03-12-vertex-2.jpg");
  const before = readdirSync(join(folder, "TS-40417", "photos")).length;
  expect(
    refusal(() =>
      photos.add({ file: DRAFT, site: "vertex", bytes: Buffer.from("no photo").toString("base64") }),
    ),
  ).toBe(422);
  expect(refusal(() => photos.add({ file: SIGNED, site: "vertex", bytes: bytes.toString("base64") }))).toBe(
    409,
  );
  expect(readdirSync(join(folder, "TS-40417", "photos"))).toHaveLength(before);
  mkdirSync(join(folder, "new"), { recursive: true });
  expect(existsSync(join(folder, "..", "up-1.jpg"))).toBe(false);
});

it("tells how far a second person's marks agree, and refuses those of another picture", () => {
  const asked = { file: DRAFT, photo: PHOTO };
  const marks = readFileSync(join(folder, "TS-40417", "photos", "left-1.marks.yaml"), "utf8");
  expect(photos.agree({ ...asked, marks })).toMatchObject({ shared: 83, onlyHere: [], onlyThere: [] });
  // One hair fewer: twice 82 shared over 83 and 82.
  const fewer = photos.agree({ ...asked, marks: marks.replace(/^ {2}- \{ at: .*, class: thin.*\n/mu, "") });
  expect(fewer).toMatchObject({ shared: 82, onlyHere: [expect.anything()], onlyThere: [], classKappa: 1 });
  expect(fewer.agreement?.value).toBeCloseTo((2 * 82) / (83 + 82), 6);
  const foreign = marks.replace(/sha256: "[0-9a-f]{4}/u, 'sha256: "0000');
  expect(refusal(() => photos.agree({ ...asked, marks: foreign }))).toBe(422);
  expect(refusal(() => photos.agree({ ...asked, marks: "hairs: many" }))).toBe(422);
});
