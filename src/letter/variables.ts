/** What every variable of a template means, in the shape of the facts; the reference in templates/VARIABLES.md is made from it. */
import { z } from "zod";

const text = (says: string) => z.string().describe(says);
const date = (says: string) => z.string().describe(`${says}; an ISO date, print it with \`date\``);
const flag = (says: string) => z.boolean().describe(says);
const number = (says: string) => z.number().describe(says);
const texts = (says: string) => z.array(z.string()).describe(says);
const group = <T extends z.ZodRawShape>(says: string, shape: T) => z.strictObject(shape).describe(says);
const list = <T extends z.ZodRawShape>(says: string, shape: T) =>
  z.array(z.strictObject(shape)).describe(says);
const maybe = <T extends z.ZodRawShape>(says: string, shape: T) =>
  z.strictObject(shape).nullable().describe(says);

const action = {
  who: text("who is to act, in the words of the reader"),
  action: text("what is to be done, as typed"),
  when: text("by when, as typed; may be empty"),
};
const impression = {
  term: text("trade name of the disorder"),
  certainty: text("definite, probable or possible, in words"),
  icd10: text("ICD-10 code; may be empty"),
  note: text("note as typed; may be empty"),
};
const photo = {
  drawing: text("name of the photo, for `drawing`"),
  site: text("number and region"),
  caption: text("caption as typed; may be empty"),
  bar: text("what the scale bar stands for; empty when the field is not known"),
};
const reason = {
  says: text("the reason in words"),
  site: text("where; may be empty"),
  weight: text("signed weight on the natural-log scale"),
  factor: text("the same as a factor"),
  frequency: text("how often published series saw it; may be empty"),
  source: text("number of the source"),
};
const measurement = {
  term: text("name of the measure"),
  values: list("one for each site", {
    site: text("region; empty when it concerns the whole scalp"),
    value: text("value with its interval"),
    n: text("how many were counted; may be empty"),
  }),
  references: texts("class, published range and source"),
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
  clinician: group("who saw the patient", {
    name: text("name"),
    role: text("role; may be empty"),
    qualifications: text("may be empty"),
    registration: text("registration number; may be empty"),
  }),
  letter: group("the document", {
    date: date("its date"),
    signed: flag("whether the visit is signed"),
    draft: flag("whether it is a draft"),
    large: flag("whether this copy is set in large print"),
  }),
  visit: group("the visit", {
    id: text("number"),
    date: date("day of the visit"),
    reason: text("reason as typed"),
  }),
  recipient: group("addressee of this copy; empty texts in a document without address", {
    name: text("name"),
    role: text("role"),
    lines: texts("name and postal address, for the window"),
    salutation: text("how the person written to is addressed"),
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
  }),
  impressions: list("what the clinician recorded, without what is excluded", impression),
  considered: list("what the clinician excluded", impression),
  actions: group("the plan", {
    reader: list("what the person written to is asked to do", action),
    others: list("what others will do", action),
    forPatient: list("all of it by person, the patient first, in the patient's words", {
      who: text("the person"),
      actions: list("what the person is to do", action),
    }),
  }),
  followUp: maybe("the next visit; null when none is planned", {
    weeks: number("weeks until then, print them with `after`"),
  }),
  history: group("the history", {
    duration: text("how long, in words; may be empty"),
    onsetCourse: texts("onset, course and shedding"),
    symptoms: texts("each symptom with its score"),
    notes: text("notes as typed; may be empty"),
    lines: list("family, past illness, medicines and so on, where recorded", {
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
    absent: texts("findings looked for and not seen"),
    notes: text("notes as typed; may be empty"),
  }),
  sitesPlain: texts("regions in plain words, each once"),
  extent: texts("hair lost in each area"),
  wideMap: flag("whether the map needs the whole width"),
  measurementTable: list("measures a letter prints", measurement),
  measurementNotes: texts("what a reader must know of them"),
  measurements: list("every measure; only in documents for the clinician, else empty", measurement),
  why: list("for each impression, the recorded findings that bear on it", {
    term: text("trade name"),
    supports: texts("recorded and described in it"),
    unusual: texts("recorded and less usual in it"),
    about: text("sentences on what the impression rests on"),
  }),
  notAssessed: texts("findings that would matter and were not assessed"),
  tests: texts("tests with result and date"),
  cautions: group("cautions by reader", {
    doctor: texts("for the receiving doctor"),
    patient: texts("for the patient"),
    clinician: texts("for the clinician"),
  }),
  photos: list("photos in rows of two", {
    left: group("the left one", photo),
    right: maybe("the right one; null in a last odd row", photo),
  }),
  pictured: list("findings for the handout, each with a drawing", {
    id: text("id"),
    drawing: text("name of the drawing, for `drawing`"),
    name: text("plain name"),
    means: text("one plain sentence"),
  }),
  told: list("what the handout says of each impression it may name", {
    name: text("plain name"),
    says: text("the impression with its certainty, as a sentence"),
    say: text("how to say the name; may be empty"),
    is: texts("what it is"),
    means: texts("what it means"),
    next: texts("what usually happens next"),
  }),
  help: list("when to get help", { fast: text("how fast"), signs: texts("signs") }),
  questions: texts("questions to bring"),
  glossary: list("words explained", { word: text("word"), means: text("explanation") }),
  change: maybe("change since the last visit; null at a first visit", {
    text: text("for the letter"),
    plain: text("for the handout"),
  }),
  progress: maybe("change over all visits; null at a first visit", {
    visits: list("visits compared", { id: text("number"), date: date("day") }),
    from: date("first visit"),
    to: date("last visit"),
    charts: list("charts in rows of two", {
      left: text("name of a chart, for `drawing`"),
      right: text("name of a chart; empty in a last odd row"),
    }),
    measures: list("measures compared", {
      term: text("name"),
      site: text("region; may be empty"),
      before: text("value then"),
      now: text("value now"),
      effect: text("difference with its limits"),
      verdict: text("more than counting error, or not"),
      needed: text("fields needed to tell; may be empty"),
      source: text("number of the source"),
    }),
    findings: list("findings that changed, by site", {
      site: text("region"),
      changes: texts("changes"),
    }),
    responses: list("response by published thresholds", {
      term: text("score"),
      says: text("from what to what"),
      thresholds: texts("each threshold with its result"),
    }),
    activity: texts("what the change says of activity"),
    notCompared: texts("what could not be compared, and why"),
    sources: list("publications this sheet cites, in order", {
      number: number("number"),
      citation: text("full citation"),
      short: text("short citation"),
    }),
  }),
  reasoning: maybe("the interpretation; only in documents for the clinician, null in all others", {
    leading: list("disorders best supported", {
      id: text("id"),
      term: text("trade name"),
      band: text("how well supported"),
      leads: text("in how many draws it leads, in words"),
      base: text("starting weight"),
      for: list("reasons for", reason),
      against: list("reasons against", reason),
    }),
    unlikely: texts("unlikely disorders"),
    notAssessable: texts("disorders that could not be weighed"),
    second: maybe("a second disorder beside the first; null when there is none", {
      term: text("trade name"),
      explains: texts("findings it explains"),
      why: text("why"),
    }),
    bySite: list("each site alone", { site: text("region"), leading: texts("disorders with their band") }),
    activity: list("activity and stage", {
      term: text("trade name"),
      state: text("state"),
      stage: text("stage; may be empty"),
      says: texts("reasons"),
    }),
    mustNotMiss: list("what must not be missed", {
      name: text("name"),
      why: text("why it is raised"),
      answered: flag("whether plan or test answers it"),
    }),
    lookNext: list("what to look at next", {
      says: text("what"),
      separates: texts("disorders it tells apart"),
      bits: text("expected information"),
    }),
    agreement: group("evidence and impression", {
      verdict: text("id of the verdict"),
      word: text("the verdict in words"),
      why: text("why"),
    }),
    notAssessed: texts("findings not assessed"),
    assessedShare: text("share of the findings that matter that was assessed"),
    rules: list("published rules worked through", {
      term: text("name"),
      result: text("met, not met or not assessable"),
      criteria: list("criteria", {
        says: text("criterion"),
        result: text("result"),
        worked: text("how it was worked; may be empty"),
      }),
      says: text("conclusion"),
      limits: text("limits; may be empty"),
      source: text("number of the source"),
    }),
    notes: texts("notes on reading"),
    accepted: list("check messages accepted by the clinician", { id: text("id"), reason: text("as typed") }),
  }),
  sources: list("publications cited in this document, in order", {
    number: number("number"),
    citation: text("full citation"),
    short: text("short citation"),
  }),
});

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
