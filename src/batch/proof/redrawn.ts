/** Whether two PDFs of ours draw the same: every object of theirs is the same once unpacked, and each is found where it stands. */
import { createHash } from "node:crypto";
import { inflateSync } from "node:zlib";

/**
 * True when the bytes are those of a document drawn again, or differ only in how tightly they are packed, as builds of Node do.
 * So a mirrored map, an exchanged photo, a cover over the text, a turned page or another typeface is seen, whatever it is.
 */
export function drawsTheSame(found: Uint8Array, again: Uint8Array): boolean {
  if (Buffer.compare(found, again) === 0) return true;
  const [one, other] = [unpackedHash(found), unpackedHash(again)];
  return one !== undefined && one === other;
}

const TABLE = "\nxref\n";

/** Hash over all objects, their streams unpacked, and the trailer; undefined for a file that is not written as ours are. */
function unpackedHash(bytes: Uint8Array): string | undefined {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = file.toString("latin1");
  const table = text.lastIndexOf(TABLE);
  if (table < 0 || !isTableTrue(text, table)) return undefined;
  const hash = createHash("sha256");
  let done = 0;
  for (const match of text.matchAll(/>>\s*stream\r?\n/gu)) {
    const start = match.index + match[0].length;
    // Within the data of the stream before.
    if (match.index < done) continue;
    const head = text.slice(done, start);
    const length = Number(/\/Length (\d+)(?![\s\S]*\/Length \d)/u.exec(head)?.[1]);
    if (!Number.isInteger(length)) return undefined;
    hash.update(head.replace(/\/Length \d+/gu, "/Length"));
    const data = file.subarray(start, start + length);
    hash.update(unpacked(data, head.slice(head.lastIndexOf(" obj"))));
    done = start + length;
  }
  const rest = text.slice(done).replace(/\nxref\n\d+ \d+\n(?:\d{10} \d{5} [nf]\s*\n)+/u, "\n");
  return hash.update(rest.replace(/startxref\s+\d+/u, "startxref")).digest("hex");
}

function unpacked(data: Buffer, head: string): Buffer {
  if (!head.includes("/FlateDecode")) return data;
  try {
    return inflateSync(data);
  } catch {
    return data;
  }
}

/** Every entry of the table of objects leads to the object that it says. */
function isTableTrue(text: string, table: number): boolean {
  const entries = text.slice(table + TABLE.length).split("\n");
  const [first = Number.NaN, count = 0] = (entries[0] ?? "").split(" ").map(Number);
  const told = Number(/startxref\s+(\d+)\s+%%EOF\s*$/u.exec(text)?.[1]);
  if (first !== 0 || told !== table + 1) return false;
  return entries
    .slice(1, count + 1)
    .every(
      (entry, number) =>
        !/ n\s*$/u.test(entry) || text.startsWith(`${number} 0 obj`, Number(entry.slice(0, 10))),
    );
}
