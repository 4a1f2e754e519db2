/**
 * JPEG to pixels and back, by libjpeg-turbo as WebAssembly: an eighth of the time of the same in JavaScript. What it does not
 * read without complaint is left to jpeg-js, which knows seldom kinds such as CMYK and refuses what is damaged.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

/** Red, green and blue, row by row from the top. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

interface Frame {
  readonly width: number;
  readonly height: number;
  readonly bitsPerSample: number;
  readonly componentCount: number;
  readonly isSigned: boolean;
}

interface Decoder {
  /** Room for so many bytes; views of the engine's memory hold until it next does something. */
  getEncodedBuffer(length: number): { set(bytes: Uint8Array): void };
  readHeader(): void;
  decode(): void;
  getFrameInfo(): Frame;
  getDecodedBuffer(): ArrayLike<number>;
}

interface Encoder {
  getDecodedBuffer(frame: Frame): { set(bytes: Uint8Array): void };
  setQuality(quality: number): void;
  setProgressive(is: boolean): void;
  setSubSampling(kind: number): void;
  encode(): void;
  getEncodedBuffer(): ArrayLike<number>;
}

/** Of WebAssembly what is used here; the types of a browser are not at hand. */
interface Compiled {
  readonly exports: object;
}
declare const WebAssembly: {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => Compiled;
};

interface Codec {
  readonly JPEGDecoder: new () => Decoder;
  readonly JPEGEncoder: new () => Encoder;
}

/** What the codec's loader is given, and then writes the codec on. */
interface Loading extends Partial<Codec> {
  instantiateWasm(imports: object, done: (instance: Compiled, module: object) => void): object;
}

const require = createRequire(import.meta.url);

/** Colours as sharp as brightness: hairs and marks are thin. */
const WITHOUT_SUBSAMPLING = 0;

let compiled: object | undefined;

/**
 * The codec with a memory of its own, for one photo alone: a damaged file may make it write where it should not, and nothing of
 * that may reach the next patient's.
 */
function startCodec(): Codec {
  const start = require("@cornerstonejs/codec-libjpeg-turbo-8bit/wasmjs") as (loading: Loading) => unknown;
  compiled ??= new WebAssembly.Module(
    readFileSync(require.resolve("@cornerstonejs/codec-libjpeg-turbo-8bit/wasm")),
  );
  const module = compiled;
  const loading: Loading = {
    // Without waiting, so that the codec is ready when its loader returns.
    instantiateWasm: (imports, done) => {
      const instance = new WebAssembly.Instance(module, imports);
      done(instance, module);
      return instance.exports;
    },
  };
  start(loading);
  const { JPEGDecoder, JPEGEncoder } = loading;
  if (!JPEGDecoder || !JPEGEncoder) throw new Error("the JPEG codec did not start");
  return { JPEGDecoder, JPEGEncoder };
}

/** Undefined when the file is damaged or holds more than `mostPixels`. */
export function decodeJpeg(bytes: Uint8Array, mostPixels: number): Pixels | undefined {
  return decodeFast(bytes, mostPixels) ?? decodeSlowly(bytes, mostPixels);
}

/** Undefined where the codec complains, were it only of a warning. */
function decodeFast(bytes: Uint8Array, mostPixels: number): Pixels | undefined {
  const decoder = new (startCodec().JPEGDecoder)();
  try {
    decoder.getEncodedBuffer(bytes.length).set(bytes);
    decoder.readHeader();
    const { width, height, componentCount } = decoder.getFrameInfo();
    if (width * height > mostPixels || (componentCount !== 1 && componentCount !== 3)) return undefined;
    decoder.decode();
    const data = new Uint8Array(decoder.getDecodedBuffer());
    if (data.length !== width * height * componentCount) return undefined;
    return { width, height, data: componentCount === 1 ? coloured(data) : data };
  } catch {
    return undefined;
  }
}

function coloured(greys: Uint8Array): Uint8Array {
  const data = new Uint8Array(greys.length * 3);
  for (const [at, grey] of greys.entries()) data.fill(grey, at * 3, at * 3 + 3);
  return data;
}

function decodeSlowly(bytes: Uint8Array, mostPixels: number): Pixels | undefined {
  const jpeg = require("jpeg-js") as typeof import("jpeg-js");
  try {
    // Comments and EXIF come along too: pixels alone go on.
    const { width, height, data } = jpeg.decode(bytes, {
      useTArray: true,
      formatAsRGBA: false,
      maxResolutionInMP: mostPixels / 1e6,
      maxMemoryUsageInMB: 1500,
      tolerantDecoding: false,
    });
    return { width, height, data };
  } catch {
    return undefined;
  }
}

/** Baseline JPEG with nothing but the pixels. */
export function encodeJpeg(pixels: Pixels, quality: number): Uint8Array {
  return encodeFast(pixels, quality) ?? encodeSlowly(pixels, quality);
}

/** Undefined where the file takes more room than the pixels, which is all that the codec has for it: of the smallest pictures. */
function encodeFast({ width, height, data }: Pixels, quality: number): Uint8Array | undefined {
  const encoder = new (startCodec().JPEGEncoder)();
  const frame = { width, height, bitsPerSample: 8, componentCount: 3, isSigned: false };
  try {
    encoder.getDecodedBuffer(frame).set(data);
    encoder.setQuality(quality);
    encoder.setProgressive(false);
    encoder.setSubSampling(WITHOUT_SUBSAMPLING);
    encoder.encode();
    const encoded = new Uint8Array(encoder.getEncodedBuffer());
    return encoded.length < data.length ? encoded : undefined;
  } catch {
    return undefined;
  }
}

function encodeSlowly({ width, height, data }: Pixels, quality: number): Uint8Array {
  const jpeg = require("jpeg-js") as typeof import("jpeg-js");
  const padded = Buffer.alloc(width * height * 4);
  for (let from = 0, to = 0; from < data.length; from += 3, to += 4)
    padded.set(data.subarray(from, from + 3), to);
  return new Uint8Array(jpeg.encode({ width, height, data: padded }, quality).data);
}
