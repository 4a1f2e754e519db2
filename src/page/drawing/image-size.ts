/** Kind, size and orientation of a JPEG or PNG from its first bytes, before anything is decoded. */

export interface ImageHead {
  readonly kind: "jpeg" | "png";
  readonly widthPx: number;
  readonly heightPx: number;
  /** EXIF orientation, 1 to 8; 1 when not given. */
  readonly orientation: number;
}

const PNG_SIGNATURE = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];

function readPng(view: DataView): ImageHead | undefined {
  if (view.byteLength < 33 || view.getUint32(12) !== 0x49484452) return undefined;
  return { kind: "png", widthPx: view.getUint32(16), heightPx: view.getUint32(20), orientation: 1 };
}

/** Orientation tag (0x0112) of the first image directory of an EXIF block; offsets from its TIFF header. */
function readOrientation(view: DataView, start: number, end: number): number {
  if (end - start < 14 || view.getUint32(start) !== 0x45786966) return 1;
  const tiff = start + 6;
  const little = view.getUint16(tiff) === 0x4949;
  const directory = tiff + view.getUint32(tiff + 4, little);
  if (directory + 2 > end) return 1;
  const entries = view.getUint16(directory, little);
  for (let i = 0; i < entries; i += 1) {
    const entry = directory + 2 + i * 12;
    if (entry + 12 > end) return 1;
    if (view.getUint16(entry, little) === 0x0112) {
      const value = view.getUint16(entry + 8, little);
      return value >= 1 && value <= 8 ? value : 1;
    }
  }
  return 1;
}

function readJpeg(view: DataView): ImageHead | undefined {
  let orientation = 1;
  for (let at = 2; at + 9 < view.byteLength; ) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const length = view.getUint16(at + 2);
    if (length < 2) return undefined;
    const end = Math.min(at + 2 + length, view.byteLength);
    if (marker === 0xe1 && orientation === 1) orientation = readOrientation(view, at + 4, end);
    const isFrame = marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
    if (isFrame) {
      return { kind: "jpeg", heightPx: view.getUint16(at + 5), widthPx: view.getUint16(at + 7), orientation };
    }
    at += 2 + length;
  }
  return undefined;
}

/** Reads the head of an image, or undefined when the bytes are neither JPEG nor PNG, or end too early. */
export function readImageHead(bytes: Uint8Array): ImageHead | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const head = PNG_SIGNATURE.every((byte, i) => bytes[i] === byte)
    ? readPng(view)
    : bytes[0] === 0xff && bytes[1] === 0xd8
      ? readJpeg(view)
      : undefined;
  return head && head.widthPx > 0 && head.heightPx > 0 ? head : undefined;
}
