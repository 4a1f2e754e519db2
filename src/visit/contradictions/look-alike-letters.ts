/** Letters of another script in a name or number: two patients would look like one, or one like two. */

import { entries, type Look } from "../look.js";
import { inLatin, looksLatin } from "../look-alike.js";

export function lookAlikeLetters({ file, report }: Look): void {
  const { given, family } = file.patient?.name ?? {};
  const name = `${given ?? ""} ${family ?? ""}`;
  const texts: [(string | number)[], string | undefined, string][] = [
    [["visit", "id"], file.visit?.id, name],
    [["patient", "id"], file.patient?.id, name],
    [["patient", "name", "given"], given, name],
    [["patient", "name", "family"], family, name],
    ...entries(file.send_to).map(([i, to]): [(string | number)[], string | undefined, string] => [
      ["send_to", i, "name"],
      to.name,
      "",
    ]),
  ];
  for (const [path, text, beside] of texts) {
    const [word] = looksLatin(text ?? "", beside);
    if (word === undefined) continue;
    report("look-alike-letters", path, {
      message: `"${word}" looks like "${inLatin(word)}" and holds letters of another script`,
      expected: "letters of one script",
      suggestion: inLatin(word),
    });
  }
}
