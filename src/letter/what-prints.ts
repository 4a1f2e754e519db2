/** What of a visit file each document prints, key by key, and why the rest is left out: nothing recorded is dropped in silence. */

/** `yes`, or why the document leaves it out. */
type Prints = "yes" | { readonly no: string };
export interface WhatPrints {
  readonly letter: Prints;
  readonly handout: Prints;
}

const no = (reason: string): Prints => ({ no: reason });
const both: WhatPrints = { letter: "yes", handout: "yes" };
const letterOnly = (reason: string): WhatPrints => ({ letter: "yes", handout: no(reason) });
const neither = (reason: string): WhatPrints => ({ letter: no(reason), handout: no(reason) });

const TRADE = "the handout tells what was seen and what happens next, in plain words";
const OWN_STORY = "the patient told it";
const MEASURED = "the letter prints the measures worked from it, with how many were counted";

/** Every key of the visit file; a key that is missing here fails the tests. */
export const WHAT_PRINTS: Readonly<Record<string, WhatPrints>> = {
  format: neither("version of the file format"),
  "visit.id": letterOnly("the date of the visit and the clinic number name the visit"),
  "visit.date": both,
  "visit.status": letterOnly("a draft carries its mark on every page"),
  "visit.seen_by": both,
  "visit.reason": letterOnly(OWN_STORY),
  "patient.id": both,
  "patient.name.title": both,
  "patient.name.given": both,
  "patient.name.family": both,
  "patient.born": both,
  "patient.sex": letterOnly("known to the patient; it chooses the sentences of the handout"),
  "patient.phototype": letterOnly(TRADE),
  "patient.ancestry": letterOnly(OWN_STORY),
  "patient.pregnancy": letterOnly(OWN_STORY),
  "patient.address": neither(
    "name, birth date and number identify the patient; the address goes nowhere that does not need it",
  ),
  "patient.language": neither("chooses the language of the handout"),
  "patient.large_print": neither("chooses the type size of the handout"),
  "send_to.role": letterOnly("copies are named at the end of the letter"),
  "send_to.name": letterOnly("copies are named at the end of the letter"),
  "send_to.address": letterOnly("only the letter to that person carries it"),
  "send_to.copy": letterOnly("a copy says so"),
  "send_to.purpose": neither("chooses which kind of letter a person gets"),
  "history.duration_weeks": letterOnly(OWN_STORY),
  "history.onset": letterOnly(OWN_STORY),
  "history.course": letterOnly(OWN_STORY),
  "history.shedding": letterOnly(OWN_STORY),
  "history.symptoms.itch": letterOnly(OWN_STORY),
  "history.symptoms.pain": letterOnly(OWN_STORY),
  "history.symptoms.burning": letterOnly(OWN_STORY),
  "history.family": letterOnly(OWN_STORY),
  "history.past": letterOnly(OWN_STORY),
  "history.began.when": letterOnly(OWN_STORY),
  "history.began.weeks_before": letterOnly(OWN_STORY),
  "history.began.age_years": letterOnly(OWN_STORY),
  "history.exposures": letterOnly(OWN_STORY),
  "history.medicines.name": letterOnly(OWN_STORY),
  "history.medicines.since_weeks": letterOnly(OWN_STORY),
  "history.medicines.stopped_weeks": letterOnly(OWN_STORY),
  "history.medicines.for": letterOnly(OWN_STORY),
  "history.allergies": letterOnly(OWN_STORY),
  "history.triggers": letterOnly(OWN_STORY),
  "history.hair_care": letterOnly(OWN_STORY),
  "history.contacts": letterOnly(OWN_STORY),
  "history.notes": letterOnly(OWN_STORY),
  asked: letterOnly(OWN_STORY),
  "examination.pattern": letterOnly(TRADE),
  "examination.signs": letterOnly(TRADE),
  "sites.signs": letterOnly(TRADE),
  "examination.scalp": letterOnly(TRADE),
  "examination.eyebrows": letterOnly(TRADE),
  "examination.eyelashes": letterOnly(TRADE),
  "examination.nails": letterOnly(TRADE),
  "examination.skin": letterOnly(TRADE),
  "examination.mouth": letterOnly(TRADE),
  "examination.lymph_nodes": letterOnly(TRADE),
  "examination.body_hair": letterOnly(TRADE),
  "pull_test.site": letterOnly(TRADE),
  "pull_test.pulled": letterOnly(TRADE),
  "pull_test.came_out": letterOnly(TRADE),
  "pull_test.anagen": letterOnly(TRADE),
  "scope.magnification": letterOnly(TRADE),
  "scope.light": letterOnly(TRADE),
  "scope.contact": letterOnly(TRADE),
  "scope.field_diameter_mm": letterOnly(TRADE),
  "sites.site": both,
  "sites.at.x": neither("places the number on the scalp map of both documents"),
  "sites.at.y": neither("places the number on the scalp map of both documents"),
  "sites.patch.length_mm": letterOnly("the handout gives the size in everyday words"),
  "sites.patch.width_mm": letterOnly("the handout gives the size in everyday words"),
  "sites.patch.margin": letterOnly(TRADE),
  "sites.findings": letterOnly("the handout shows those that were seen most, each with a drawing"),
  "sites.none_of": letterOnly(TRADE),
  "sites.fields.hairs": neither(MEASURED),
  "sites.fields.thin": neither(MEASURED),
  "sites.fields.vellus": neither(MEASURED),
  "sites.fields.units": neither(MEASURED),
  "sites.fields.yellow_dots": neither(
    "a count of one field; the reasoning sheet prints what is worked from it",
  ),
  "sites.fields.discoloured_openings": neither(
    "a count of one field; the reasoning sheet prints what is worked from it",
  ),
  "sites.diameters_um": neither("the letter prints their mean and spread"),
  "sites.photos.file": neither("the letter prints the photo itself"),
  "sites.photos.field": neither("says which field the photo shows; the letter prints its caption"),
  "sites.photos.caption": letterOnly("the handout has drawings in place of photos"),
  "sites.notes": letterOnly(TRADE),
  "extent.top": letterOnly(TRADE),
  "extent.left": letterOnly(TRADE),
  "extent.right": letterOnly(TRADE),
  "extent.back": letterOnly(TRADE),
  scores: letterOnly(TRADE),
  "tests.name": both,
  "tests.value": both,
  "tests.unit": both,
  "tests.result": both,
  "tests.date": both,
  "tests.range.low": both,
  "tests.range.high": both,
  "impression.disorder": letterOnly(
    "the handout gives the plain name of the first two, unless a name is kept back",
  ),
  "impression.certainty": letterOnly("the handout says how sure in plain words"),
  "impression.note": letterOnly(TRADE),
  "impression.because": letterOnly(TRADE),
  "impression.in_handout": neither("keeps a name out of the handout"),
  "plan.who": both,
  "plan.action": both,
  "plan.when": both,
  "plan.by": both,
  "plan.urgency": both,
  "plan.answers": neither("ties the line to what must not be missed; its urgency is printed with the line"),
  "plan.declined": both,
  "follow_up.weeks": both,
  told: letterOnly("the patient was told in person"),
  "accept.id": neither("messages for the clinician; the reasoning sheet lists them"),
  "accept.reason": neither("messages for the clinician; the reasoning sheet lists them"),
  "signed.by": letterOnly("the handout names who saw the patient"),
  "signed.at": letterOnly("the handout is not signed"),
  "signed.seal": neither("proves that the content is as signed"),
  "signed.edition": letterOnly("the handout is given again whole"),
  "signed.reason": letterOnly("the handout is given again whole"),
};

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
    "<!-- Made from src/letter/what-prints.ts by `npm run templates`; edit there. -->",
    "Every key of a visit file is printed in the letter and in the handout, but for these. `whorl check --what-prints` shows the same list. A letter to a third party (school, employer, insurer, family) holds the names, the dates and the lines of the plan for that reader, and nothing else.",
    part("Left out of the letter", "letter"),
    part("Left out of the handout", "handout"),
  ].join("\n\n")}\n`;
}
