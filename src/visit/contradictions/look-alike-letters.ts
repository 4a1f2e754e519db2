/**
 * A name or number in letters of another script that look Latin, in a file whose names are Latin: a search misses it. Words
 * that mix scripts are told where all visits of a clinic are compared.
 */

import { type CheckContext, entries } from "../check-context.js";
import { latinLookOf } from "../look-alike.js";

export function lookAlikeLetters({ file, report }: CheckContext): void {
  const { given = "", family = "" } = file.patient?.name ?? {};
  const texts: [(string | number)[], string][] = [
    [["visit", "id"], file.visit?.id ?? ""],
    [["patient", "id"], file.patient?.id ?? ""],
    [["patient", "name", "given"], given],
    [["patient", "name", "family"], family],
    ...entries(file.send_to).map(([i, to]): [(string | number)[], string] => [
      ["send_to", i, "name"],
      to.name ?? "",
    ]),
  ];
  if (!texts.some(([path, text]) => path.includes("name") && /\p{Script=Latin}/u.test(text))) return;
  for (const [path, text] of texts) {
    for (const word of text.split(/\s+/u)) {
      const looks = latinLookOf(word);
      if (looks === undefined) continue;
      report("look-alike-letters", path, {
        message: `"${word}" looks like "${looks}" and is written in letters of another script`,
        expected: "letters of one script",
        suggestion: looks,
      });
    }
  }
}
