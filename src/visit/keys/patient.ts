/** Keys on the visit as an event and on people: who was seen, who receives the letter, who signs. */
import { given, line, list, map, name, needed, sentence, texts, value } from "../key.js";
import { date, fileSafeId, language, moment, number, text, word, yesNo } from "../leaves.js";
import { PHOTOTYPES, PURPOSES, SEXES } from "../terms.js";
import { plainWords } from "../words.js";

const STATUS = plainWords("draft or signed", ["draft", "signed"]);
const SEX = plainWords("a word for sex", SEXES, { "not stated": ["not recorded", "unknown"] });
const PHOTOTYPE = plainWords("a Fitzpatrick phototype", PHOTOTYPES);
const PREGNANCY = plainWords("a word for pregnancy", ["pregnant", "breastfeeding", "planning", "no"], {
  breastfeeding: ["breast feeding"],
  no: ["not pregnant"],
});
const PURPOSE = plainWords("a word for the purpose", PURPOSES, {
  care: ["treatment"],
  family: ["parent", "guardian", "carer"],
  employer: ["work", "workplace"],
  insurer: ["insurance"],
});

/** Below `visit`; a Visit holds them at its top. */
export const EVENT_KEYS = {
  id: needed(
    value(fileSafeId(), "The clinic's own number for the visit; also part of file names."),
    "the visit's number",
  ),
  date: needed(value(date(), "Day of the visit, year-month-day."), "the day of the visit"),
  status: given(value(word(STATUS), "draft, or signed once it may leave the clinic."), "draft"),
  seen_by: needed(value(fileSafeId(), "Key of a person in the clinic file."), "who saw the patient"),
  reason: given(sentence("Why the patient came, in a sentence."), ""),
};

const NAME_KEYS = {
  title: name("Ms, Mr, Dr, and so on, as the patient wishes."),
  given: given(name("Given name or names; leave out for a person with one name."), ""),
  family: needed(name("Family name, or the only name."), "the family name"),
};

export const PATIENT_KEYS = {
  id: needed(
    value(fileSafeId(), "The clinic's own number for the patient; also part of file names."),
    "the patient's number",
  ),
  name: needed(
    map(NAME_KEYS, "The patient's name as the letter prints it.", { oneLine: true }),
    "the patient's name",
  ),
  born: needed(value(date(), "Date of birth, year-month-day."), "the date of birth"),
  sex: given(value(word(SEX), "Sex as recorded."), "not stated"),
  phototype: value(word(PHOTOTYPE), "Fitzpatrick skin phototype, I to VI in Roman figures."),
  ancestry: line("As the patient describes it, in free words."),
  pregnancy: value(word(PREGNANCY), "Where it applies: pregnant, breastfeeding, planning, or no."),
  address: texts("Postal address, one line each."),
  language: given(value(language(), "Language of the patient's handout, such as en-GB."), "en-GB"),
  large_print: given(value(yesNo(), "True for a handout in large print."), false),
};

export const RECIPIENT_KEYS = {
  role: needed(name("general practitioner, parent, school nurse, and so on."), "the role of the recipient"),
  name: needed(name("Name with title, as on the envelope."), "the name of the recipient"),
  address: texts("Postal address, one line each."),
  copy: given(value(yesNo(), "True for someone who only gets a copy."), false),
  purpose: value(
    word(PURPOSE),
    "Who reads it and why: care, family, school, employer, insurer; a letter outside care says only what must be known.",
  ),
};

export const SIGNED_KEYS = {
  by: needed(value(fileSafeId(), "Key of the person in the clinic file who signs."), "who signs"),
  at: needed(
    value(moment(), "Day and time of signing, such as 2026-03-12T14:05+00:00."),
    "the moment of signing",
  ),
  seal: value(text(120), "Hash over the content that was signed; written by the program."),
  edition: value(number(1, 999, { whole: true }), "1, or the number of the letter that replaces one."),
  reason: line("Why a later edition replaces the one before."),
};

export const ACCEPT_KEYS = {
  id: needed(name("Id of a check message that was seen and accepted."), "the id of the message accepted"),
  reason: needed(line("Why it stands as it is."), "the reason for accepting"),
};

export const sendTo = list(RECIPIENT_KEYS, "Who receives the letter.", { most: 20 });
