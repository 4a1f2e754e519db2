/** What of a visit file each document prints, key by key, and why the rest is left out: nothing recorded is dropped in silence. */
import { VISIT_KEYS } from "../visit/keys.js";

/** `yes`, or why the document leaves it out. */
type Prints = "yes" | { readonly no: string };
export interface WhatPrints {
  readonly letter: Prints;
  readonly handout: Prints;
}

const prints = (why: string | undefined): Prints => (why === undefined ? "yes" : { no: why });

/** Every key of the visit file; the reasons stand in the tables of its keys. */
export const WHAT_PRINTS: Readonly<Record<string, WhatPrints>> = Object.fromEntries(
  VISIT_KEYS.map(({ path, leftOut }) => [
    path,
    { letter: prints(leftOut.letter), handout: prints(leftOut.handout) },
  ]),
);

/** True when letter or handout print what stands under a key such as `sites.findings.yellow dots`. */
export function isPrinted(key: string): boolean {
  const steps = key.split(".");
  for (let length = steps.length; length > 0; length--) {
    const known = WHAT_PRINTS[steps.slice(0, length).join(".")];
    if (known) return known.letter === "yes" || known.handout === "yes";
  }
  return true;
}

/** What a document leaves out, with the reason. */
export function leftOut(document: keyof WhatPrints): { key: string; why: string }[] {
  return Object.entries(WHAT_PRINTS).flatMap(([key, prints]) => {
    const how = prints[document];
    return how === "yes" ? [] : [{ key, why: how.no }];
  });
}

/** The list as a page for people. */
export function whatPrintsPage(): string {
  const part = (title: string, document: keyof WhatPrints) =>
    [
      `## ${title}`,
      [
        "| Key | Why it is left out |",
        "|---|---|",
        ...leftOut(document).map((r) => `| \`${r.key}\` | ${r.why} |`),
      ].join("\n"),
    ].join("\n\n");
  return `${[
    "# What the documents print",
    "<!-- Made from src/visit/keys by `npm run templates`; edit there. -->",
    "Every key of a visit file is printed in the letter and in the handout, but for these. `whorl check --what-prints` shows the same list. A letter to a third party (school, employer, insurer, family) holds the names, the dates and the lines of the plan for that reader, and nothing else.",
    part("Left out of the letter", "letter"),
    part("Left out of the handout", "handout"),
  ].join("\n\n")}\n`;
}
