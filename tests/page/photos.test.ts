/** Photos as they come from cameras, and as they are set: upright, small, and with nothing but pixels. */
import { decodePDFRawStream, PDFArray, PDFDocument, type PDFRawStream } from "@cantoo/pdf-lib";
import { decode, encode } from "jpeg-js";
import { expect, test } from "vitest";
import { readImageHead } from "../../src/page/drawing/image-size.js";
import { encodeJpeg } from "../../src/page/drawing/jpeg.js";
import { renderPdf } from "../../src/page/pdf.js";
import { PHOTO_LIMITS, preparePhoto } from "../../src/page/photos.js";
import { LONG } from "../runs.js";
import { letterOf, rendered } from "./read-back.js";
import { cameraJpeg, plainJpeg, plainPng } from "./sample-photos.js";

function prepared(bytes: Uint8Array) {
  const { value, problems } = preparePhoto(bytes);
  if (!value) throw new Error(JSON.stringify(problems));
  return value;
}

function colorAt(bytes: Uint8Array, x: number, y: number): "red" | "green" | "blue" | "white" | "other" {
  const { data, width } = decode(bytes, { useTArray: true });
  const [r = 0, g = 0, b = 0] = data.subarray((y * width + x) * 4);
  if (r > 220 && g > 220 && b > 220) return "white";
  if (r > 150 && g < 90 && b < 90) return "red";
  if (g > 150 && r < 90 && b < 90) return "green";
  return b > 150 && r < 90 && g < 90 ? "blue" : "other";
}

test("nothing but pixels is left: no place, camera, comment or thumbnail", () => {
  const original = cameraJpeg(64, 48, 1);
  expect(Buffer.from(original).toString("latin1")).toContain("GPSPLACE54N");
  for (const bytes of [original, cameraJpeg(64, 48, 6, false)]) {
    const out = Buffer.from(prepared(bytes).bytes).toString("latin1");
    for (const secret of ["GPSPLACE", "SECRETCAMERA", "PATIENTNAME", "Exif", "http://ns.adobe"])
      expect(out).not.toContain(secret);
    expect(readImageHead(prepared(bytes).bytes)?.orientation).toBe(1);
  }
});

test("a photo in a letter brings none of its metadata into the PDF", async () => {
  const photo = prepared(cameraJpeg(64, 48, 1)).bytes;
  const { bytes } = await rendered(
    letterOf('<figure><img src="photo:a" alt="Margin"><figcaption>Site 1</figcaption></figure>', {
      photos: { a: photo },
    }),
  );
  const out = Buffer.from(bytes).toString("latin1");
  expect(out).toContain("/DCTDecode");
  for (const secret of ["GPSPLACE", "SECRETCAMERA", "PATIENTNAME"]) expect(out).not.toContain(secret);
});

/** Corner that was top left in the stored picture, after turning: [x, y] as shares of the size. */
test.each([
  [1, [0.1, 0.1], false],
  [2, [0.9, 0.1], false],
  [3, [0.9, 0.9], false],
  [4, [0.1, 0.9], false],
  [5, [0.1, 0.1], true],
  [6, [0.9, 0.1], true],
  [7, [0.9, 0.9], true],
  [8, [0.1, 0.9], true],
] as const)("EXIF orientation %i is applied", (orientation, [x, y], isTurned) => {
  for (const littleEndian of LONG ? [true, false] : [orientation % 2 === 0]) {
    const photo = prepared(cameraJpeg(64, 48, orientation, littleEndian));
    expect([photo.widthPx, photo.heightPx]).toEqual(isTurned ? [48, 64] : [64, 48]);
    expect(colorAt(photo.bytes, Math.floor(x * photo.widthPx), Math.floor(y * photo.heightPx))).toBe("green");
  }
});

test("a large photo becomes small, keeps its shape and colours", () => {
  const photo = prepared(plainJpeg(1600, 1200));
  expect(photo.widthPx).toBe(1430);
  expect(photo.heightPx).toBe(1073);
  expect(colorAt(photo.bytes, 200, 900)).toBe("red");
  expect(colorAt(photo.bytes, 1200, 900)).toBe("blue");
});

test.each([
  [1, 1],
  [1, 9],
  [9, 1],
  [8, 8],
])(
  "a picture of %i by %i pixels keeps its colour, though its file is larger than they are",
  (width, height) => {
    const data = new Uint8Array(width * height * 3).map((_, i) => [200, 30, 30][i % 3] ?? 0);
    const bytes = encodeJpeg({ width, height, data }, 85);
    expect(readImageHead(bytes)).toMatchObject({ kind: "jpeg", widthPx: width, heightPx: height });
    // Not by the codec, whose room for a file is that of the pixels.
    const rgba = Buffer.from(Array.from({ length: width * height }, () => [200, 30, 30, 0]).flat());
    expect(Buffer.from(bytes)).toEqual(Buffer.from(encode({ width, height, data: rgba }, 85).data));
    for (const [x, y] of [
      [0, 0],
      [width - 1, height - 1],
    ] as const)
      expect(colorAt(bytes, x, y)).toBe("red");
  },
);

test("PNG is taken, on white where it is transparent", () => {
  expect(colorAt(prepared(plainPng(40, 40)).bytes, 5, 30)).toBe("red");
  const clear = Buffer.from(plainPng(8, 8));
  expect(readImageHead(clear)).toEqual({ kind: "png", widthPx: 8, heightPx: 8, orientation: 1 });
});

test.each([
  ["nothing", new Uint8Array(0)],
  ["words", new TextEncoder().encode("this is no picture, though it has more than forty bytes")],
  ["half a JPEG", plainJpeg(200, 200).slice(0, 900)],
  ["half a PNG", plainPng(200, 200).slice(0, 300)],
  ["a JPEG head alone", new Uint8Array([0xff, 0xd8, 0xff, 0xe1, 0x00, 0x08, 1, 2, 3, 4, 5, 6])],
  ["a PNG head alone", plainPng(20, 20).slice(0, 40)],
])("%s is refused as broken", (_, bytes) => {
  const { value, problems } = preparePhoto(bytes);
  expect(value).toBeUndefined();
  expect(problems.map(({ id }) => id)).toEqual(["photo-broken"]);
});

test("a picture that claims too many pixels is refused before it is decoded", () => {
  const bomb = Buffer.from(plainPng(10, 10));
  bomb.writeUInt32BE(50_000, 16);
  bomb.writeUInt32BE(50_000, 20);
  const before = process.memoryUsage().rss;
  expect(preparePhoto(bomb).problems.map(({ id }) => id)).toEqual(["photo-too-large"]);
  expect(process.memoryUsage().rss - before).toBeLessThan(50e6);
  expect(preparePhoto(new Uint8Array(PHOTO_LIMITS.bytes + 1)).problems.map(({ id }) => id)).toEqual([
    "photo-too-large",
  ]);
});

test("pictures whose file is larger than their pixels come out whole, and those after them too", () => {
  const large = prepared(plainJpeg(300, 200)).bytes;
  for (const side of [1, 3, 8, 24]) {
    const small = prepared(plainPng(side, side));
    expect([small.widthPx, small.heightPx]).toEqual([side, side]);
    expect(decode(small.bytes).width).toBe(side);
  }
  expect(Buffer.from(prepared(plainJpeg(300, 200)).bytes).equals(large)).toBe(true);
});

/** One byte in forty; each of them with `WHORL_RUNS=1`. */
test("damaged heads never throw", () => {
  const photo = cameraJpeg(8, 8, 3);
  for (let at = 0; at < 220; at += LONG ? 1 : 40) {
    const bytes = photo.slice();
    bytes[at] = 0xff;
    const { value, problems } = preparePhoto(bytes);
    expect(value !== undefined || problems.length === 1).toBe(true);
  }
});

test("a photo is not blown up beyond its pixels or its width, and nothing else passes for one", async () => {
  const photo = prepared(plainJpeg(300, 200)).bytes;
  const widthOf = async (img: string) => {
    const { bytes } = await rendered(letterOf(`<figure>${img}</figure>`, { photos: { a: photo } }));
    const document = await PDFDocument.load(bytes);
    const contents = document.getPage(0).node.Contents();
    const stream = contents instanceof PDFArray ? contents.lookup(0) : contents;
    const code = Buffer.from(decodePDFRawStream(stream as PDFRawStream).decode()).toString("latin1");
    return Number(/([\d.]+) 0 0 -?[\d.]+ [\d.]+ [\d.]+ cm\n\/I\d+ Do/.exec(code)?.[1]);
  };
  expect(await widthOf('<img src="photo:a" alt="a">')).toBeCloseTo(144, 0);
  expect(await widthOf('<img src="photo:a" alt="a" width="90">')).toBeCloseTo(90, 0);
  const { problems } = await renderPdf(
    letterOf('<figure><img src="photo:a" alt="a"></figure>', { photos: { a: new Uint8Array([1, 2, 3]) } }),
  );
  expect(problems.map(({ id }) => id)).toEqual(["photo-broken"]);
});
