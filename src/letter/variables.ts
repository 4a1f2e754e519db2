/** What every variable of a template means, in the shape of the facts; the reference in templates/VARIABLES.md is made from it. */
import { z } from "zod";
import { date, flag, group, list, maybe, number, text, texts } from "./variable-kinds.js";
import { handoutVariables } from "./variables-handout.js";
import { sheetVariables } from "./variables-sheets.js";

const action = {
  who: text("who is to act, in the words of the reader"),
  lead: text("how urgent and by when, in words; may be empty"),
  action: text("what is to be done, as typed"),
  declined: flag("whether it was offered and declined"),
};

const byPerson = {
  who: text("the person"),
  actions: list("what the person is to do", action),
};
const impression = {
  term: text("trade name of the disorder"),
  certainty: text("definite, probable or possible, in words"),
  icd10: text("code of the disorder; may be empty"),
  icd10List: text("the list the code is of: ICD-10, or ICD-10-CM in the United States"),
  note: text("note as typed; may be empty"),
};
const photo = {
  drawing: text("name of the photo, for `drawing`"),
  site: text("number and region"),
  caption: text("caption as typed; may be empty"),
  bar: text("what the scale bar stands for; empty when the field is not known"),
  legend: text("what each number in it points at, as sentences; empty without marks"),
};
const measurement = {
  term: text("name of the measure"),
  unit: text("its unit; may be empty"),
  values: list("one for each site", {
    site: text("region; empty when it concerns the whole scalp"),
    value: text("value with its interval"),
    n: text("how many were counted; may be empty"),
    figure: text("value with its unit alone"),
    bare: text("value without its unit"),
    interval: text("the rest: interval, number counted, class, names; may be empty"),
  }),
  references: texts("class, published range and source"),
  published: text("published ranges in a letter, with source; may be empty"),
};

export const variablesSchema = z.strictObject({
  clinic: group("the clinic file", {
    name: text("name"),
    lines: texts("address lines"),
    phone: text("telephone"),
    email: text("e-mail; may be empty"),
    web: text("web address; may be empty"),
    logo: flag('whether a logo is drawn: `drawing "logo"`'),
    emergency: list("numbers for emergencies", { label: text("what it is for"), number: text("number") }),
  }),
  clinician: group("who signs, or who saw the patient while nobody has signed", {
    name: text("name"),
    role: text("role; may be empty"),
    qualifications: text("may be empty"),
    registration: text("registration number; may be empty"),
  }),
  letter: group("the document", {
    date: date("its date: the day of signing, or of the visit where that is not known"),
    signed: flag("whether the visit is signed"),
    signedAt: text("day and time of signing; empty where they were not recorded"),
    replaces: text("that this letter replaces an earlier one, and why; may be empty"),
    draft: flag("whether it is a draft"),
    large: flag("whether this copy is set in large print"),
  }),
  visit: group("the visit", {
    id: text("number"),
    date: date("day of the visit"),
    reason: text("reason as typed"),
    seenBy: text("who saw the patient, when somebody else signs; may be empty"),
  }),
  recipient: group("addressee of this copy; empty texts in a document without address", {
    name: text("name"),
    role: text("role"),
    lines: texts("name and postal address, for the window"),
    salutation: text("how the reader is addressed"),
    why: text("why a reader outside the care has this letter; empty for one who shares in it"),
    copyOf: text("whom the letter was written to, when this is a copy; else empty"),
  }),
  copies: list("who else gets it", { name: text("name"), role: text("role") }),
  patient: group("the patient", {
    id: text("the clinic's number"),
    fullName: text("title and full name"),
    shortName: text("title and family name, or the given name of a child"),
    salutation: text("how the handout addresses the patient, or a child's parents"),
    born: date("date of birth"),
    age: text("age in words"),
    sex: text("sex in words"),
    isChild: flag("under 16"),
    readsOwnPart: flag("a child old enough to read a part of the handout, from 5 to 15"),
  }),
  impressions: list("what the clinician recorded, without what is excluded", impression),
  considered: list("what the clinician excluded", impression),
  actions: group("the plan", {
    reader: list("what the person written to is asked to do", action),
    others: list("what others will do, by person", byPerson),
    forPatient: list("all of it by person, the patient first, in the patient's words", byPerson),
  }),
  followUp: maybe("the next visit; null when none is planned", {
    weeks: number("weeks until then, print them with `after`"),
    date: date("about that day"),
  }),
  history: group("the history", {
    duration: text("how long, in words; may be empty"),
    onsetCourse: texts("onset, course and shedding"),
    medicines: text("medicines taken; empty when not recorded"),
    allergies: text("allergies; empty when not recorded"),
    pregnancy: text("pregnant, breastfeeding and so on; empty when not recorded"),
    symptoms: texts("each symptom with its score"),
    noSymptoms: text("that none of the symptoms asked for is felt; empty where one is"),
    notes: text("notes as typed; may be empty"),
    lines: list("family, past illness, triggers and so on, where recorded", {
      label: text("what it is"),
      text: text("what was recorded"),
    }),
  }),
  examination: list("other places looked at", { label: text("place"), text: text("as typed") }),
  scope: text("how the dermoscope was used; may be empty"),
  sites: list("sites in the order of the map", {
    number: number("number on the map"),
    name: text("trade name of the region"),
    plain: text("plain words for the region"),
    patch: text("size and edge of a patch; may be empty"),
    patchPlain: text("size of a patch in plain words; may be empty"),
    present: list("findings seen", {
      id: text("id"),
      term: text("trade term"),
      amount: text("how much"),
    }),
    amounts: list("findings seen by amount, the most first", {
      amount: text("how much"),
      terms: texts("trade terms"),
    }),
    absent: texts("findings looked for and not seen"),
    nothing: text("what to say where nothing was seen: looked for, only counted, or not looked for"),
    nothingPlain: text("the same in plain words; empty where something was seen"),
    notes: text("notes as typed; may be empty"),
  }),
  sitesPlain: texts("regions in plain words, each once"),
  extent: texts("hair lost in each area, as recorded"),
  recordedScores: list("answers recorded for named scores", {
    term: text("name of the score"),
    answers: texts("each answer with its value"),
    result: text("whether its criteria are met; empty for a score with a value"),
  }),
  mapWidths: text("shares of the width for history and map side by side; empty where the map stands alone"),
  measurementTables: list(
    "measures a letter prints; more than one table where they are too many for its width",
    {
      sitesBelow: flag("sites have a row each and measures a column, not the other way round"),
      heads: texts("what each column holds: a site, or a measure with its unit"),
      rows: list("one for each measure, or for each site", {
        term: text("name of the measure or of the site"),
        cells: list("one for each column", {
          figure: text(
            "value, with its unit unless the head has it; empty where there is none, or more than one",
          ),
          interval: text("interval and number counted, or all values of the site; may be empty"),
        }),
      }),
    },
  ),
  published: texts("published ranges of these measures, with source"),
  wholeScalp: texts("measures of the whole scalp, each as a short sentence"),
  measurementNotes: texts("what a reader must know of them"),
  measurements: list("every measure; only in documents for the clinician, else empty", measurement),
  why: list("what the clinician ticked as the ground of an impression", {
    term: text("trade name"),
    because: texts("findings it rests on"),
  }),
  notAssessed: texts("findings that would matter and were not assessed"),
  tests: list("tests", {
    says: text("name, result, range and date"),
    flag: text("that the figure lies below or above its range; may be empty"),
    within: text("that the figure lies within its range; may be empty"),
  }),
  toldThem: text("what the patient was told, as typed; may be empty"),
  cautions: group("cautions by reader", {
    doctor: texts("for the receiving doctor"),
    doctorFirst: texts("of these, what cannot wait"),
    doctorRest: texts("of these, the rest"),
    urgent: texts("for the patient, what cannot wait: it stands first"),
    patient: texts("for the patient, the rest"),
    clinician: texts("for the clinician"),
  }),
  photos: list("photos in rows of two", {
    left: group("the left one", photo),
    right: maybe("the right one; null in a last odd row", photo),
  }),
  change: maybe("change since the last visit; null at a first visit", {
    since: text("since when, to stand before the text"),
    text: text("for the letter"),
    plain: text("for the handout"),
  }),
  ...sheetVariables,
  ...handoutVariables,
  sources: list("publications cited in this document, in order", {
    number: number("number"),
    citation: text("full citation"),
    short: text("short citation"),
  }),
});

/** Read only at every depth. */
type Fixed<T> = T extends readonly (infer Item)[]
  ? readonly Fixed<Item>[]
  : T extends object
    ? { readonly [K in keyof T]: Fixed<T[K]> }
    : T;

/** Everything a template may print, worked out once: the view model of all documents. Plain data; every key is always there. */
export type LetterFacts = Fixed<z.infer<typeof variablesSchema>>;

/** Helpers a template may call, with an example and what it gives. */
export const HELPER_NOTES: Readonly<Record<string, { readonly use: string; readonly gives: string }>> = {
  cap: { use: "{{cap term}}", gives: "the text with a capital" },
  sentence: { use: "{{sentence visit.reason}}", gives: "the text as a sentence: capital, full stop" },
  list: { use: "{{list notAssessed}}", gives: 'a list of texts in one, with the language\'s "and"' },
  date: { use: "{{date visit.date}}", gives: "a date in words" },
  duration: { use: "{{duration followUp.weeks}}", gives: "weeks as days, weeks, months or years" },
  after: { use: "in {{after followUp.weeks}}", gives: 'the same, in the form that follows "in"' },
  num: { use: "{{num followUp.weeks 1}}", gives: "a number with so many decimals" },
  eq: { use: "{{#if (eq letter.signed true)}}", gives: "whether two values are the same" },
  drawing: {
    use: '{{drawing "map"}}',
    gives: "one of our own drawings: `map`, `plainMap`, `logo`, or one that a variable names",
  },
};
