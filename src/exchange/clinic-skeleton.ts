/** A commented clinic file to fill in: letterhead, people, urgent lines and the habits of the house. */
import { clinicJsonSchema } from "../visit/json-schema.js";
import { placeAt } from "./schema-place.js";
import { line, remark, withComment } from "./yaml-line.js";

/** The text of a clinic file that asks for everything; `schemaRef` is where the JSON Schema stands. */
export function clinicSkeleton(schemaRef?: string): string {
  const schema = clinicJsonSchema();
  const says = (...path: (string | number)[]) => {
    const place = placeAt(schema, path);
    if (!place) throw new Error(`no such place in a clinic file: ${path.join(".")}`);
    return place.says.replace(/\.$/u, "");
  };
  return [
    ...(schemaRef ? [`# yaml-language-server: $schema=${schemaRef}`] : []),
    ...remark(
      0,
      "The clinic: one file, in the folder above all visits. Fill in what stands empty; the rest is a choice.",
    ),
    "",
    line(0, "name", undefined, says("name")),
    line(0, "lines", undefined, `[street, town, code]  ${says("lines")}`),
    line(0, "phone", undefined, says("phone")),
    line(0, "email", undefined, says("email")),
    withComment("# web:", says("web")),
    withComment("# logo: logo.svg", says("logo")),
    "",
    ...remark(0, "Everyone who sees patients. The key (first-last) is what seen_by of a visit names."),
    line(0, "people"),
    line(2, "first-last"),
    line(4, "name", undefined, "with title, as under a signature"),
    line(4, "role", undefined, "such as Consultant dermatologist"),
    line(4, "qualifications", undefined, "letters after the name"),
    line(4, "registration", undefined, "number with the professional body"),
    line(4, "may_sign", true, "signs letters"),
    "",
    ...remark(0, `${says("emergency")}. A number that is not right may cost time, so none is filled in.`),
    line(0, "emergency"),
    line(2, "- label", undefined, "such as Emergency services"),
    line(4, "number", undefined, "as dialled"),
    "",
    line(0, "paper", "A4", says("paper")),
    line(0, "language", "en-GB", says("language")),
    line(0, "address_window", "none", says("address_window")),
    line(0, "fold_marks", false, says("fold_marks")),
    line(0, "copy_to_patient", false, says("copy_to_patient")),
    withComment("# templates: templates", `${says("templates")}; whorl new templates makes it`),
    "",
  ].join("\n");
}
