/** Small photos made in memory, with the metadata a camera would add. */
import { encode } from "jpeg-js";
import { PNG } from "pngjs";

/** Left half red, right half blue, with a green top left corner. */
function pixels(width: number, height: number): Buffer {
  const data = Buffer.alloc(width * height * 4, 255);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const isCorner = x < width / 4 && y < height / 4;
      const color = isCorner ? [0, 200, 0] : x < width / 2 ? [200, 0, 0] : [0, 0, 200];
      color.forEach((value, c) => {
        data[(y * width + x) * 4 + c] = value;
      });
    }
  }
  return data;
}

const encoded = new Map<string, Uint8Array>();

export function plainJpeg(width: number, height: number): Uint8Array {
  const size = `${width} ${height}`;
  const bytes = encoded.get(size) ?? encode({ width, height, data: pixels(width, height) }, 92).data;
  encoded.set(size, bytes);
  return new Uint8Array(bytes);
}

export function plainPng(width: number, height: number): Uint8Array {
  const png = new PNG({ width, height });
  png.data = pixels(width, height);
  return new Uint8Array(PNG.sync.write(png));
}

/** A JPEG with an EXIF block: the orientation, a camera name, and a place. */
export function cameraJpeg(
  width: number,
  height: number,
  orientation: number,
  littleEndian = true,
): Uint8Array {
  const tiff = Buffer.alloc(140);
  const put16 = (value: number, at: number) =>
    littleEndian ? tiff.writeUInt16LE(value, at) : tiff.writeUInt16BE(value, at);
  const put32 = (value: number, at: number) =>
    littleEndian ? tiff.writeUInt32LE(value, at) : tiff.writeUInt32BE(value, at);
  tiff.write(littleEndian ? "II" : "MM", 0, "latin1");
  put16(42, 2);
  put32(8, 4);
  put16(3, 8);
  // Make (ASCII at 60), orientation (SHORT), GPS directory (offset 90).
  put16(0x010f, 10);
  put16(2, 12);
  put32(18, 14);
  put32(60, 18);
  put16(0x0112, 22);
  put16(3, 24);
  put32(1, 26);
  put16(orientation, 30);
  put16(0x8825, 34);
  put16(4, 36);
  put32(1, 38);
  put32(90, 42);
  tiff.write("SECRETCAMERAMAKER", 60, "latin1");
  put16(1, 90);
  put16(1, 92);
  put16(2, 94);
  put32(2, 96);
  tiff.write("N", 100, "latin1");
  tiff.write("GPSPLACE54N", 110, "latin1");
  const exif = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  const head = Buffer.alloc(4);
  head.writeUInt16BE(0xffe1, 0);
  head.writeUInt16BE(exif.length + 2, 2);
  const comment = Buffer.concat([
    Buffer.from([0xff, 0xfe, 0x00, 0x0f]),
    Buffer.from("PATIENTNAME42", "latin1"),
  ]);
  const jpeg = Buffer.from(plainJpeg(width, height));
  return new Uint8Array(Buffer.concat([jpeg.subarray(0, 2), head, exif, comment, jpeg.subarray(2)]));
}
