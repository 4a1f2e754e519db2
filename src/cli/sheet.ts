/** A sheet on many visits, as PDF, for the clinic only. */
import type { ClinicWork } from "../batch/clinic-work.js";
import { writeWhole } from "../files/write.js";
import { composeSheet, type SheetInput } from "../letter/sheet.js";
import { renderPdf } from "../page/pdf.js";
import { showProblems } from "./show-problems.js";

/** Where no clinic file is found, the sheet stands in plain English on A4. */
const NO_CLINIC = { name: "", language: "en-GB", paper: "A4" } as const;

/** In the language and on the paper of the first clinic. False, with the problems told, where it cannot be made. */
export async function writeClinicSheet(
  out: string,
  input: Omit<SheetInput, "clinic">,
  clinics: readonly ClinicWork[],
): Promise<boolean> {
  const clinic = clinics.find((c) => c.clinic)?.clinic ?? NO_CLINIC;
  const { value: sheet, problems } = composeSheet({ ...input, clinic });
  const made = sheet ? await renderPdf(sheet) : { problems: [] };
  const said = [...problems, ...made.problems];
  if (said.length > 0) process.stderr.write(`${showProblems(said)}\n\n`);
  if (!("value" in made) || !made.value) return false;
  writeWhole(out, made.value.bytes);
  process.stderr.write(`${out}\n`);
  return true;
}
