/** A finished PDF -> the same PDF with the visit file attached, or locked with a password. Tags stay; pages are not touched. */

/** What `attachVisit` puts into the PDF. */
export interface VisitAttachment {
  /** File name shown to the reader, such as `TS-2026-0141.yaml`. */
  readonly name: string;
  /** The visit file, byte for byte. */
  readonly yaml: Uint8Array;
  /** ISO date written as the attachment's own, never the clock's, so that equal input gives equal bytes. */
  readonly date: string;
}

/** As few characters as a password may have. Common practice. */
export const LEAST_PASSWORD = 8;
/** Bytes in UTF-8 that a reader looks at; what follows would be ignored. ISO 32000-2:2020, 7.6.4.3.3. */
const MOST_PASSWORD_BYTES = 127;

/** The sentence that says why a password cannot be used, or undefined when it can; it never repeats the password. */
export function passwordFault(password: string): string | undefined {
  const characters = [...prepared(password)].length;
  if (characters === 0) return "The password is empty.";
  if (/[\p{Cc}\p{Cf}\p{Co}\p{Cn}\p{Cs}\u2028\u2029]/u.test(prepared(password)))
    return "The password holds an invisible character that cannot be typed again.";
  if (prepared(password).trim() !== prepared(password)) return "The password begins or ends with a space.";
  if (characters < LEAST_PASSWORD)
    return `The password has ${characters} character${characters === 1 ? "" : "s"}; at least ${LEAST_PASSWORD} are needed.`;
  if (new TextEncoder().encode(prepared(password)).length > MOST_PASSWORD_BYTES)
    return `The password is too long: readers look at the first ${MOST_PASSWORD_BYTES} bytes only.`;
  return undefined;
}

/**
 * The PDF encrypted with AES-256, revision 6 (ISO 32000-2:2020, 7.6.4): it opens with the password only, which then allows
 * reading aloud, copying and printing. The bytes differ from run to run. Throws a RangeError for a password with a fault.
 */
export async function protectPdf(bytes: Uint8Array, password: string): Promise<Uint8Array> {
  const fault = passwordFault(password);
  if (fault) throw new RangeError(fault);
  const document = await opened(bytes);
  document.encrypt({
    algorithm: "AES-256",
    userPassword: prepared(password),
    permissions: { printing: "highResolution", copying: true, contentAccessibility: true },
  });
  return document.save(AS_IT_IS);
}

/** The PDF with the visit file as an associated file, the source of the document. Equal input gives equal bytes. */
export async function attachVisit(bytes: Uint8Array, visit: VisitAttachment): Promise<Uint8Array> {
  const { AFRelationship, PDFArray, PDFDict, PDFName, PDFString } = await import("./pdf-lib.js");
  const document = await opened(bytes);
  const date = new Date(`${visit.date}T00:00:00Z`);
  await document.attach(visit.yaml, visit.name, {
    mimeType: "application/yaml",
    description: "The visit file that this document was made from",
    creationDate: date,
    modificationDate: date,
    afRelationship: AFRelationship.Source,
  });
  await document.flush();
  const files = document.catalog.lookup(PDFName.of("AF"), PDFArray);
  const plainName = visit.name.replace(/[^\w. -]/gu, "_");
  // The library writes the older name field unescaped; the name proper stands in UF.
  files.lookup(files.size() - 1, PDFDict).set(PDFName.of("F"), PDFString.of(plainName));
  return document.save(AS_IT_IS);
}

const AS_IT_IS = { addDefaultPage: false, updateFieldAppearances: false } as const;

async function opened(bytes: Uint8Array) {
  const { PDFDocument } = await import("./pdf-lib.js");
  // Without this the library would name itself as the producer and write the time of day.
  return PDFDocument.load(bytes, { updateMetadata: false, throwOnInvalidObject: true });
}

/** One way to write a password, however it was typed: the normal form that readers compare in (RFC 4013). */
function prepared(password: string): string {
  return password.normalize("NFKC");
}
