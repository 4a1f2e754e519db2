/** The visit file as written: its keys, what each holds and in which unit. Every key may be left out here; `missing.ts` says which must not. */
import { z } from "zod";
import { findingsMap } from "./findings-map.js";
import {
  count,
  date,
  fileSafeId,
  language,
  moment,
  number,
  pathInside,
  text,
  textList,
  word,
  wordList,
  yesNo,
} from "./leaves.js";
import { medicineList } from "./medicine-list.js";
import { scoresMap } from "./scores-map.js";
import { CERTAINTIES, PHOTOTYPES, PURPOSES, SEXES, URGENCIES } from "./visit.js";
import type { VisitWords } from "./visit-words.js";
import { plainWords } from "./words.js";
import { yesNoMap } from "./yes-no-map.js";

const NAME = 120;
const LINE = 300;
const PROSE = 4000;

const one = <S extends z.ZodRawShape>(shape: S, says: string) =>
  z.strictObject(shape).nullish().describe(says);
const many = <S extends z.ZodRawShape>(shape: S, says: string, most = 100) =>
  z.array(z.strictObject(shape).nullable()).max(most).nullish().describe(says);
const prose = (says: string) => text(PROSE, { lines: true }).describe(says);
const list = (says: string) => textList().describe(says);

const STATUS = plainWords("draft or signed", ["draft", "signed"]);
const SEX = plainWords("a word for sex", SEXES, { "not stated": ["not recorded", "unknown"] });
const PHOTOTYPE = plainWords("a Fitzpatrick phototype", PHOTOTYPES);
const PREGNANCY = plainWords("a word for pregnancy", ["pregnant", "breastfeeding", "planning", "no"], {
  breastfeeding: ["breast feeding"],
  no: ["not pregnant"],
});
const ONSET = plainWords("a word for the onset", ["sudden", "gradual"]);
const COURSE = plainWords("a word for the course", ["spreading", "stable", "improving", "relapsing"]);
const SHEDDING = plainWords("a word for shedding", ["normal", "increased", "none"]);
const LIGHT = plainWords("a word for the light", ["polarised", "non-polarised"], {
  "non-polarised": ["unpolarised", "nonpolarised"],
});
const CONTACT = plainWords("a word for the contact", ["dry", "immersion", "contact"]);
const MARGIN = plainWords("a word for the margin", ["sharp", "blurred"]);
const CERTAINTY = plainWords("a certainty", CERTAINTIES);
const URGENCY = plainWords("a word for urgency", URGENCIES, {
  now: ["at once", "immediately"],
  "same day": ["today"],
  days: ["within days"],
});
const PURPOSE = plainWords("a word for the purpose", PURPOSES, {
  care: ["treatment"],
  family: ["parent", "guardian", "carer"],
  employer: ["work", "workplace"],
  insurer: ["insurance"],
});

const patient = {
  id: fileSafeId().describe("The clinic's own number for the patient; also part of file names."),
  name: one(
    {
      title: text(NAME).describe("Ms, Mr, Dr, and so on, as the patient wishes."),
      given: text(NAME).describe("Given name or names; leave out for a person with one name."),
      family: text(NAME).describe("Family name, or the only name."),
    },
    "The patient's name as the letter prints it.",
  ),
  born: date().describe("Date of birth, year-month-day."),
  sex: word(SEX).describe("Sex as recorded."),
  phototype: word(PHOTOTYPE).describe("Fitzpatrick skin phototype, I to VI in Roman figures."),
  ancestry: text(LINE).describe("As the patient describes it, in free words."),
  pregnancy: word(PREGNANCY).describe("Where it applies: pregnant, breastfeeding, planning, or no."),
  address: list("Postal address, one line each."),
  language: language().describe("Language of the patient's handout, such as en-GB."),
  large_print: yesNo().describe("True for a handout in large print."),
};

const BEGAN = plainWords("a word for the beginning", ["birth"], { birth: ["at birth", "congenital"] });

const history = (words: VisitWords) => ({
  began: one(
    {
      when: word(BEGAN).describe("birth, when it has been there since birth."),
      weeks_before: number(0, 5200, { unit: "weeks" }).describe("Weeks before the visit."),
      age_years: number(0, 120, { unit: "years" }).describe("Age at which it began, in years."),
    },
    "When it began: one of the three keys.",
  ),
  duration_weeks: number(0, 5200, { unit: "weeks" }).describe("How long it has lasted, in weeks."),
  onset: word(ONSET).describe("How it began."),
  course: word(COURSE).describe("How it has gone on."),
  shedding: word(SHEDDING).describe("How much hair falls."),
  symptoms: one(
    {
      itch: number(0, 10).describe("0 (none) to 10 (worst)."),
      pain: number(0, 10).describe("0 (none) to 10 (worst)."),
      burning: number(0, 10).describe("0 (none) to 10 (worst)."),
    },
    "Symptoms as the patient scores them, each 0 to 10.",
  ),
  family: list("Disorders in the family."),
  past: list("Past and present disorders."),
  medicines: medicineList().describe(
    "Medicines taken: a name alone, or { name: azathioprine, since_weeks: 3, stopped_weeks: 0, for: eczema }.",
  ),
  exposures: wordList(words.exposures).describe("What the patient is or was exposed to."),
  allergies: list("Allergies."),
  triggers: list("What came before: illness, birth, diet, a new medicine."),
  hair_care: list("Styles, heat, chemicals, extensions, head coverings."),
  contacts: list("People or animals close by with a similar trouble."),
  notes: prose("Anything else of the history."),
});

const examination = (words: VisitWords) => ({
  pattern: wordList(words.patterns).describe("The shape of the loss, in one or more words of the catalogue."),
  signs: yesNoMap(words.signs).describe(
    "Signs to the naked eye or to touch: yes, or no when looked for and not found. What is left out was not examined.",
  ),
  scalp: prose("The scalp to the naked eye."),
  eyebrows: prose("Eyebrows."),
  eyelashes: prose("Eyelashes."),
  nails: prose("Nails."),
  skin: prose("Skin elsewhere."),
  mouth: prose("Mouth."),
  lymph_nodes: prose("Lymph nodes."),
  body_hair: prose("Hair of the body."),
});

const perUnit = (hairs: number) =>
  count(2000).describe(`Follicular units with ${hairs} ${hairs === 1 ? "hair" : "hairs"}.`);
const field = {
  hairs: count(5000).describe("All hairs in the field of view."),
  thin: count(5000).describe("Of these, hairs thinner than 0.03 mm."),
  vellus: count(5000).describe("Of these, vellus hairs."),
  units: one(
    Object.fromEntries([1, 2, 3, 4, 5, 6, 7, 8, 9].map((hairs) => [String(hairs), perUnit(hairs)])),
    "Follicular units by the number of hairs in each.",
  ),
  yellow_dots: count(5000).describe("Yellow dots in the field of view."),
  discoloured_openings: count(5000).describe("Openings with a discoloured rim in the field of view."),
};

const site = (words: VisitWords) => ({
  site: word(words.regions).describe("A named region of the scalp."),
  at: one(
    {
      x: number(0, 1).describe("From the left edge of the region (0) to its right edge (1), as drawn."),
      y: number(0, 1).describe("From the top of the region (0) to its bottom (1), as drawn."),
    },
    "Place inside the region, for the scalp map.",
  ),
  patch: one(
    {
      length_mm: number(0.1, 500, { unit: "mm" }).describe("Longest measure, in millimetres."),
      width_mm: number(0.1, 500, { unit: "mm" }).describe("Measure across, in millimetres."),
      margin: word(MARGIN).describe("Margin of the patch."),
    },
    "A patch of hair loss.",
  ),
  findings: findingsMap(words.findings).describe(
    "What was seen, and how much: none, single, few, several, many, throughout, seen, or a count in a number of fields. What is left out was not assessed.",
  ),
  none_of: wordList(words.findings).describe(
    "Findings looked for and not seen, in one list: the same as writing none after each.",
  ),
  fields: many(field, "Counted fields of view; leave out what was not counted."),
  diameters_um: z
    .array(number(0, 1000, { unit: "micrometres" }))
    .max(2000)
    .nullish()
    .describe("Measured shaft diameters, in micrometres."),
  photos: many(
    {
      file: pathInside().describe("File name, relative to this file's folder."),
      field: number(1, 100, { whole: true }).describe("Number of the counted field it shows, from 1."),
      caption: text(LINE).describe("One line under the picture."),
    },
    "Photographs of the site.",
  ),
  signs: yesNoMap(words.signs).describe("Signs to the naked eye or to touch at this site: yes or no."),
  notes: prose("Anything else of this site."),
});

/** The schema of a visit file with the words of a knowledge folder. */
export function visitFileSchema(words: VisitWords) {
  return z.strictObject({
    format: number(1, 1, { whole: true }).describe("Version of this format: 1."),
    visit: one(
      {
        id: fileSafeId().describe("The clinic's own number for the visit; also part of file names."),
        date: date().describe("Day of the visit, year-month-day."),
        status: word(STATUS).describe("draft, or signed once it may leave the clinic."),
        seen_by: fileSafeId().describe("Key of a person in the clinic file."),
        reason: text(1000, { lines: true }).describe("Why the patient came, in a sentence."),
      },
      "The visit itself.",
    ),
    patient: one(patient, "The patient."),
    send_to: many(
      {
        role: text(NAME).describe("general practitioner, parent, school nurse, and so on."),
        name: text(NAME).describe("Name with title, as on the envelope."),
        address: list("Postal address, one line each."),
        copy: yesNo().describe("True for someone who only gets a copy."),
        purpose: word(PURPOSE).describe(
          "Who reads it and why: care, family, school, employer, insurer; a letter outside care says only what must be known.",
        ),
      },
      "Who receives the letter.",
      20,
    ),
    asked: yesNoMap(words.asked).describe(
      "Answers to the questions of the facts catalogue: yes or no. What is left out was not asked.",
    ),
    history: one(history(words), "What the patient told."),
    examination: one(
      examination(words),
      "What was seen beyond the dermoscope; what is left out was not examined.",
    ),
    pull_test: many(
      {
        site: word(words.regions).describe("Where hairs were pulled."),
        pulled: number(1, 1000, { whole: true, unit: "hairs" }).describe("Hairs pulled."),
        came_out: count(1000, "hairs").describe("Hairs that came out."),
        anagen: count(1000, "hairs").describe("Of these, anagen hairs."),
      },
      "Hair pull tests.",
      40,
    ),
    scope: one(
      {
        magnification: number(1, 1000, { unit: "times" }).describe("Magnification, such as 20."),
        light: word(LIGHT).describe("Kind of light."),
        contact: word(CONTACT).describe("dry, immersion, or contact plate without fluid."),
        field_diameter_mm: number(0.1, 100, { unit: "mm" }).describe(
          "Diameter of the field of view, in millimetres.",
        ),
      },
      "The dermoscope as used.",
    ),
    sites: many(site(words), "The places looked at."),
    extent: one(
      {
        top: number(0, 100, { unit: "percent" }).describe("Percent of hair lost on top."),
        left: number(0, 100, { unit: "percent" }).describe("Percent of hair lost on the left side."),
        right: number(0, 100, { unit: "percent" }).describe("Percent of hair lost on the right side."),
        back: number(0, 100, { unit: "percent" }).describe("Percent of hair lost at the back."),
      },
      "Percent of hair lost in each of the four areas of the scalp; leave out what was not estimated.",
    ),
    scores: scoresMap(words).describe("Inputs of named scores."),
    tests: many(
      {
        name: text(NAME).describe("What was tested."),
        value: number(-1e9, 1e9).describe("A figure, in the unit given."),
        unit: text(40).describe("Unit of the figure, such as ug/L."),
        result: text(LINE).describe("A result in words, or awaited."),
        date: date().describe("Day the sample was taken, year-month-day."),
        range: one(
          {
            low: number(-1e9, 1e9).describe("Lower end, in the unit of the figure."),
            high: number(-1e9, 1e9).describe("Upper end, in the unit of the figure."),
          },
          "The laboratory's own range; leave out an end that is open.",
        ),
      },
      "Tests done or awaited.",
    ),
    impression: many(
      {
        disorder: word(words.disorders).describe("A disorder."),
        certainty: word(CERTAINTY).describe("definite, probable, possible, or excluded."),
        note: text(1000, { lines: true }).describe("A sentence about it."),
        in_handout: yesNo().describe("no keeps this name out of the handout, to be talked over in person."),
      },
      "The clinician's impression.",
      20,
    ),
    plan: many(
      {
        who: text(NAME).describe("Who does it: general practitioner, patient, clinic, and so on."),
        action: text(1000, { lines: true }).describe("What is to be done, as a sentence."),
        when: text(NAME).describe("By when, in words."),
        by: date().describe("The day by which it is to be done, year-month-day."),
        urgency: word(URGENCY).describe("How soon: now, same day, days, soon."),
        answers: wordList(words.hazards).describe("Ids of the must-not-miss lines that this answers."),
        declined: yesNo().describe("yes where it was offered and the patient declined."),
      },
      "Who does what.",
    ),
    follow_up: one(
      { weeks: number(0, 1000, { unit: "weeks" }).describe("Weeks until the next visit.") },
      "The next visit.",
    ),
    told: prose("What the patient was told."),
    accept: many(
      {
        id: text(NAME).describe("Id of a check message that was seen and accepted."),
        reason: text(LINE).describe("Why it stands as it is."),
      },
      "Check messages the clinician has seen and accepted.",
    ),
    signed: one(
      {
        by: fileSafeId().describe("Key of the person in the clinic file who signs."),
        at: moment().describe("Day and time of signing, such as 2026-03-12T14:05+00:00."),
        seal: text(NAME).describe("Hash over the content that was signed; written by the program."),
        edition: number(1, 999, { whole: true }).describe(
          "1, or the number of the letter that replaces one.",
        ),
        reason: text(LINE).describe("Why a later edition replaces the one before."),
      },
      "The act of signing; changed content is no longer signed.",
    ),
  });
}

export type VisitFileSchema = ReturnType<typeof visitFileSchema>;
/** A visit file with its values read; anything may still be missing. */
export type VisitFile = z.output<VisitFileSchema>;
export type SiteEntry = NonNullable<NonNullable<VisitFile["sites"]>[number]>;
export type FieldEntry = NonNullable<NonNullable<SiteEntry["fields"]>[number]>;
