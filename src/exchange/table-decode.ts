/** The bytes of a table -> its text, with the encoding that was stated or found. */
import chardet from "chardet";
import iconv from "iconv-lite";

export interface DecodedTable {
  readonly text: string;
  /** As named in the result, such as `UTF-8` or `windows-1252`. */
  readonly encoding: string;
  /** How it is known: named in the mapping, plain from the bytes themselves, or guessed from letter frequencies. */
  readonly known: "stated" | "certain" | "guessed";
}

/** What chardet calls it -> what it is in practice: exports named Latin-1 are written by Windows. */
const IN_PRACTICE: Readonly<Record<string, string>> = { "ISO-8859-1": "windows-1252", ASCII: "UTF-8" };
/** A guess below this is not believed; Western Windows is then taken, and said so. */
const LEAST_CONFIDENCE = 30;
const FALLBACK = "windows-1252";

/** True for a name that the decoder knows. */
export function isEncoding(name: string): boolean {
  return iconv.encodingExists(name);
}

/** Text without byte order mark. UTF-8 and UTF-16 are recognised with certainty, older encodings by guess. */
export function decodeTable(bytes: Uint8Array, stated?: string): DecodedTable {
  const read = (encoding: string, known: DecodedTable["known"]): DecodedTable => ({
    text: iconv.decode(bytes, encoding, { stripBOM: true }),
    encoding,
    known,
  });
  if (stated !== undefined) return read(stated, "stated");
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return read("UTF-16LE", "certain");
  if (a === 0xfe && b === 0xff) return read("UTF-16BE", "certain");
  const zeros = zerosIn(bytes);
  if (zeros) return read(zeros, "certain");
  if (isUtf8(bytes)) return read("UTF-8", "certain");
  const guesses = chardet.analyse(bytes).filter((g) => isEncoding(g.name) && !/^UTF-/u.test(g.name));
  const best = guesses[0];
  const western = guesses.find((g) => IN_PRACTICE[g.name] === FALLBACK);
  const believed =
    best === undefined ||
    best.confidence < LEAST_CONFIDENCE ||
    (western && western.confidence >= best.confidence)
      ? FALLBACK
      : best.name;
  return read(IN_PRACTICE[believed] ?? believed, "guessed");
}

/** UTF-16 without a mark: nearly every second byte of Latin text is zero. */
function zerosIn(bytes: Uint8Array): "UTF-16LE" | "UTF-16BE" | undefined {
  const head = bytes.subarray(0, 2000);
  let even = 0;
  let odd = 0;
  for (let i = 0; i < head.length; i++) if (head[i] === 0) i % 2 === 0 ? even++ : odd++;
  if (odd > head.length / 4 && even === 0) return "UTF-16LE";
  return even > head.length / 4 && odd === 0 ? "UTF-16BE" : undefined;
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}
