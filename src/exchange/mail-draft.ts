/** One letter, locked, as an e-mail draft (RFC 5322, MIME) that a mail program opens unsent. Nothing is sent by this. */
import { createHash } from "node:crypto";
import MailComposer from "nodemailer/lib/mail-composer";

export interface DraftInput {
  readonly from: { readonly name: string; readonly address: string };
  /** The one addressee. */
  readonly to: { readonly name: string; readonly address: string };
  readonly subject: string;
  /** Plain words without anything clinical: the letter is locked, the mail is not. */
  readonly body: string;
  readonly attachment: { readonly name: string; readonly bytes: Uint8Array };
  /** The moment of the draft. */
  readonly at: Date;
}

/** The bytes of an `.eml` file. Equal input gives equal bytes. */
export function mailDraft({ from, to, subject, body, attachment, at }: DraftInput): Promise<Buffer> {
  const mark = createHash("sha256")
    .update(`${to.address}\n${subject}\n${at.toISOString()}\n`)
    .update(attachment.bytes)
    .digest("hex")
    .slice(0, 32);
  const composer = new MailComposer({
    from,
    to,
    subject,
    date: at,
    messageId: `<${mark}@${from.address.split("@")[1] ?? "localhost"}>`,
    baseBoundary: mark,
    // Mail programs open it for writing, with a button to send it.
    headers: { "X-Unsent": "1" },
    text: body,
    textEncoding: "quoted-printable",
    newline: "win",
    attachments: [
      {
        filename: attachment.name,
        content: Buffer.from(attachment.bytes),
        contentType: "application/pdf",
      },
    ],
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  return composer.compile().build();
}
