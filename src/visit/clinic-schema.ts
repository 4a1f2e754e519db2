/** The clinic file as written: letterhead, people, and how the house wants its letters. */
import { z } from "zod";
import { PAPERS, SHEETS } from "../base/paper.js";
import { addTrouble, anyType, Fault, leaf } from "./leaf.js";
import { email, fileSafeId, language, number, pathInside, text, textList, word, yesNo } from "./leaves.js";
import { plainWords } from "./vocabulary.js";

const NAME = 120;

export const ADDRESS_WINDOWS = ["uk-dl", "din-5008-a", "din-5008-b", "us-9", "us-10", "none"] as const;

const PAPER = plainWords(
  "a paper size",
  PAPERS,
  Object.fromEntries(PAPERS.map((paper) => [paper, SHEETS[paper].also])),
);
const WINDOW = plainWords("an address window", ADDRESS_WINDOWS, {
  "uk-dl": ["dl"],
  "din-5008-b": ["din 5008"],
});

/** Digits as people dial them. */
const phone = () =>
  leaf(
    { kind: "text", most: 40 },
    () => anyType(["string", "number"], { pattern: "^\\s*[+(]?[0-9][0-9 ().+/x-]*\\s*$" }),
    (written) =>
      /^[+(]?[0-9][0-9 ().+/x-]*$/u.test(written.trim())
        ? written.trim()
        : new Fault("bad-phone", `"${written.slice(0, 40)}" cannot be dialled`, {
            expected: "figures, spaces, and + ( ) - only",
          }),
  );

const country = () =>
  leaf(
    { kind: "text", most: 2 },
    () => ({ type: "string", pattern: "^\\s*[A-Za-z]{2}\\s*$" }),
    (written) =>
      /^[a-z]{2}$/iu.test(written.trim())
        ? written.trim().toUpperCase()
        : new Fault("bad-country", `"${written.slice(0, 40)}" is not a country code`, {
            expected: "two letters, such as GB",
          }),
  );

const person = z.strictObject({
  name: text(NAME).describe("Name with title, as under a signature."),
  role: text(NAME).describe("Role, such as Consultant dermatologist."),
  qualifications: text(NAME).describe("Letters after the name."),
  registration: text(60).describe("Registration number with the professional body."),
  may_sign: yesNo().describe("True for someone who signs letters."),
});

/** People by the key that a visit's seen_by names. */
const people = z
  .record(z.string(), person.nullable())
  .superRefine((entries, ctx) => {
    for (const key of Object.keys(entries)) {
      if (fileSafeId().safeParse(key).success) continue;
      const message = `"${key}" cannot be the key of a person`;
      addTrouble(ctx, { problem: "bad-id", message, want: { kind: "id" }, onKey: true }, [key]);
    }
  })
  .nullish();

/** By the name of a test, or words that stand in it, how long its result usually takes. */
const lateAfter = z
  .record(
    z.string(),
    z
      .strictObject({
        days: number(0, 1000, { whole: true, unit: "days" }).describe("Days, or days beyond the weeks."),
        weeks: number(0, 150, { whole: true, unit: "weeks" }).describe("Weeks."),
      })
      .nullable(),
  )
  .nullish();

/** The schema of a clinic file. */
export const clinicFileSchema = z.strictObject({
  name: text(NAME).describe("Name of the clinic, as in the letterhead."),
  lines: textList(NAME, 8).describe("Address lines of the letterhead."),
  phone: phone().describe("Telephone for patients and colleagues."),
  email: email().describe("E-mail address."),
  web: text(200).describe("Web address."),
  logo: pathInside().describe("SVG or PNG file beside this one, for the letterhead."),
  people: people.describe("People of the clinic, each under the key that seen_by names."),
  paper: word(PAPER).describe("A4 or Letter; when left out, A4, or Letter where the language is en-US."),
  language: language().describe("Language of letters to colleagues; en-GB when left out."),
  address_window: word(WINDOW).describe(
    "Envelope window the address is set for: uk-dl, din-5008-a, din-5008-b, us-9, us-10, or none.",
  ),
  fold_marks: yesNo().describe("True for short rules at the edge where the sheet is folded."),
  emergency: z
    .array(
      z
        .strictObject({
          label: text(NAME).describe("What the number is for."),
          number: phone().describe("The number as dialled."),
          country: country().describe("Two-letter code of the country it is for; everywhere when left out."),
        })
        .nullable(),
    )
    .max(12)
    .nullish()
    .describe("Lines for urgent help, printed in the patient's handout."),
  copy_to_patient: yesNo().describe("True when patients get a copy of the letter unless they decline."),
  late_after: lateAfter.describe(
    "By a test's name or words in it, the usual time after which its result is late, such as culture: { weeks: 6 }; no time is assumed.",
  ),
  confidentiality: text(300).describe(
    "One line at the foot of every page; {clinic} and {phone} are filled in.",
  ),
  templates: pathInside().describe("Folder beside this file with the clinic's own templates."),
  fonts: pathInside().describe(
    "Folder beside this file with typefaces (TTF, OTF) for scripts that ours do not have.",
  ),
});

export type ClinicFile = z.output<typeof clinicFileSchema>;
