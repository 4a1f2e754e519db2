import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readPictures } from "../../src/batch/pictures.js";
import type { Clinic } from "../../src/visit/clinic.js";
import type { Visit } from "../../src/visit/visit.js";
import { examined } from "../examples/all-examples.js";
import { root } from "../house/source-files.js";
import { plainJpeg } from "../page/sample-photos.js";

const example = join(root, "examples", "patients", "TS-40417");
const photo = join(example, "photos", "left-1.jpg");
let folder: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "whorl-pictures-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const clinic = { name: "Quay Clinic", people: {} } as unknown as Clinic;

const { visit } = examined(join(example, "2026-03-12.yaml"));

function withPhoto(file: string): Visit {
  const [first, ...rest] = visit.sites;
  if (!first) throw new Error("the example has a site");
  return { ...visit, marks: [], sites: [{ ...first, photos: [{ file }] }, ...rest] };
}

const read = (visit: Visit, own: Clinic = clinic) => readPictures(join(folder, "visit.yaml"), visit, own);

describe("photos of a visit", () => {
  it("are read from the visit's folder, with a scale bar from the field diameter", () => {
    copyFileSync(photo, join(folder, "a.jpg"));
    const { pictures, problems } = read(withPhoto("a.jpg"));
    expect(problems).toEqual([]);
    expect(pictures.photos).toMatchObject([{ siteIndex: 0, barMm: 2 }]);
    expect(
      Buffer.from(pictures.bytes.p0 ?? [])
        .subarray(0, 2)
        .toString("hex"),
    ).toBe("ffd8");
  });

  it("that are missing, broken, outside or behind a link are named, with the line", () => {
    writeFileSync(join(folder, "torn.jpg"), "not a picture");
    const outside = mkdtempSync(join(tmpdir(), "whorl-outside-"));
    copyFileSync(photo, join(outside, "a.jpg"));
    symlinkSync(join(outside, "a.jpg"), join(folder, "link.jpg"));
    const ids = (file: string) => read(withPhoto(file)).problems.map((p) => p.id);
    expect(ids("none.jpg")).toEqual(["photo-not-found"]);
    expect(ids("torn.jpg")).toEqual(["photo-broken"]);
    expect(ids("../../etc/passwd")).toEqual(["photo-outside"]);
    expect(ids("link.jpg")).toEqual(["photo-outside"]);
    rmSync(outside, { recursive: true, force: true });
  });
});

describe("pictures read before", () => {
  const bytesOf = (visit: Visit) => Buffer.from(read(visit).pictures.bytes.p0 ?? []).toString("base64");

  it("come out the same, and anew when the file or the scale is another", () => {
    writeFileSync(join(folder, "a.jpg"), plainJpeg(90, 60));
    const visit = withPhoto("a.jpg");
    const first = bytesOf(visit);
    expect(bytesOf(visit)).toBe(first);
    const closer = { ...visit, scope: { ...visit.scope, fieldDiameterMm: 4 } };
    expect(read(closer).pictures.photos).toMatchObject([{ barMm: 1 }]);
    expect(bytesOf(closer)).not.toBe(first);
    writeFileSync(join(folder, "a.jpg"), plainJpeg(60, 40));
    const replaced = bytesOf(visit);
    expect(replaced).not.toBe(first);
    for (let i = 0; i < 12; i++) {
      writeFileSync(join(folder, `b${i}.jpg`), plainJpeg(40 + i, 40));
      expect(bytesOf(withPhoto(`b${i}.jpg`))).not.toBe(replaced);
    }
    expect(bytesOf(visit)).toBe(replaced);
  });
});

describe("a clinic's logo", () => {
  it("may be a plain drawing or a picture, and nothing that runs or loads", () => {
    mkdirSync(join(folder, "l"));
    const logo = (name: string, content: string) => {
      writeFileSync(join(folder, "l", name), content);
      return read(withPhoto("none.jpg"), { ...clinic, logo: join(folder, "l", name) });
    };
    const svg = (inside: string) =>
      `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40">${inside}</svg>`;
    expect(logo("a.svg", svg('<circle cx="20" cy="20" r="9"/>')).pictures.logo).toContain("<circle");
    const bare = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7"/></svg>';
    expect(logo("d.svg", bare).pictures.logo).toBe(bare.replace("<svg", '<svg aria-hidden="true"'));
    const named = bare.replace("<svg", '<svg aria-label="Tarn Sound"');
    expect(logo("e.svg", named).pictures.logo).toBe(named);
    // As drawing programs write it: a prologue, a document type, and a style sheet of classes.
    const styled = `<?xml version="1.0"?>\n<!-- by a program -->\n<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">\n<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><style>.st0{fill:#0b6b6b}</style><path class="st0" d="M1 1h7"/></svg>`;
    const followed = logo("f.svg", styled);
    expect(followed.problems.filter(({ path }) => path === "logo")).toEqual([]);
    expect(followed.pictures.logo).toBe(
      '<svg aria-hidden="true" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1h7" fill="#0b6b6b"/></svg>',
    );
    for (const bad of [
      "<style>@import url(http://example.org/a.css);</style>",
      "<style>@media print{path{fill:#123}}</style>",
      "<style>path{fill:url(http://example.org/a.png)}</style>",
      "<script>1</script>",
      '<g onload="x()"/>',
      '<image href="http://example.org/a.png"/>',
      "<foreignObject/>",
    ]) {
      const { pictures, problems } = logo("b.svg", svg(bad));
      expect(pictures.logo).toBeUndefined();
      expect(problems.map((p) => p.id)).toContain("logo-unreadable");
    }
    expect(logo("c.png", "no picture").problems.map((p) => p.id)).toContain("logo-unreadable");
  });
});
