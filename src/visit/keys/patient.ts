/** Keys on the visit as an event and on people: who was seen, who receives the letter, who signs. */
import { given, leaving, left, line, list, map, name, needed, sentence, texts, value } from "../key.js";
import { date, email, fileSafeId, language, moment, number, text, word, yesNo } from "../leaves.js";
import { PHOTOTYPES, PURPOSES, SEXES } from "../terms.js";
import { plainWords } from "../vocabulary.js";
import { neither, OWN_STORY, TRADE } from "./left-out.js";

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
  id: left(
    { handout: "the date of the visit and the clinic number name the visit" },
    needed(
      value(fileSafeId(), "The clinic's own number for the visit; also part of file names."),
      "the visit's number",
    ),
  ),
  date: needed(value(date(), "Day of the visit, year-month-day."), "the day of the visit"),
  status: left(
    { handout: "a draft carries its mark on every page" },
    given(value(word(STATUS), "draft, or signed once it may leave the clinic."), "draft"),
  ),
  seen_by: needed(value(fileSafeId(), "Key of a person in the clinic file."), "who saw the patient"),
  reason: left(OWN_STORY, given(sentence("Why the patient came, in a sentence."), "")),
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
  sex: left(
    { handout: "known to the patient; it chooses the sentences of the handout" },
    given(value(word(SEX), "Sex as recorded."), "not stated"),
  ),
  phototype: left(TRADE, value(word(PHOTOTYPE), "Fitzpatrick skin phototype, I to VI in Roman figures.")),
  ancestry: left(OWN_STORY, line("As the patient describes it, in free words.")),
  pregnancy: left(
    OWN_STORY,
    value(word(PREGNANCY), "Where it applies: pregnant, breastfeeding, planning, or no."),
  ),
  address: left(
    neither(
      "name, birth date and number identify the patient; the address goes nowhere that does not need it",
    ),
    texts("Postal address, one line each."),
  ),
  language: left(
    neither("chooses the language of the handout"),
    given(value(language(), "Language of the patient's handout, such as en-GB."), "en-GB"),
  ),
  large_print: left(
    neither("chooses the type size of the handout"),
    given(value(yesNo(), "True for a handout in large print."), false),
  ),
};

const COPIES = { handout: "copies are named at the end of the letter" };

export const RECIPIENT_KEYS = leaving(COPIES, {
  role: needed(name("general practitioner, parent, school nurse, and so on."), "the role of the recipient"),
  name: needed(name("Name with title, as on the envelope."), "the name of the recipient"),
  address: left(
    { handout: "only the letter to that person carries it" },
    texts("Postal address, one line each."),
  ),
  email: left(
    neither("addresses the e-mail draft that carries the letter"),
    value(email(), "E-mail address, for a draft that carries the locked letter."),
  ),
  copy: left(
    { handout: "a copy says so" },
    given(value(yesNo(), "True for someone who only gets a copy."), false),
  ),
  purpose: left(
    neither("chooses which kind of letter a person gets"),
    value(
      word(PURPOSE),
      "Who reads it and why: care, family, school, employer, insurer; a letter outside care says only what must be known.",
    ),
  ),
});

const ONE_EDITION = { handout: "the handout is given again whole" };

export const SIGNED_KEYS = {
  by: left(
    { handout: "the handout names who saw the patient" },
    needed(value(fileSafeId(), "Key of the person in the clinic file who signs."), "who signs"),
  ),
  at: left(
    { handout: "the handout is not signed" },
    needed(
      value(moment(), "Day and time of signing, such as 2026-03-12T14:05+00:00."),
      "the moment of signing",
    ),
  ),
  seal: left(
    neither("proves that the content is as signed"),
    value(text(120), "Hash over the content that was signed; written by the program."),
  ),
  edition: left(
    ONE_EDITION,
    value(number(1, 999, { whole: true }), "1, or the number of the letter that replaces one."),
  ),
  reason: left(ONE_EDITION, line("Why a later edition replaces the one before.")),
};

const FOR_CLINICIAN = neither("messages for the clinician; the reasoning sheet lists them");

export const ACCEPT_KEYS = leaving(FOR_CLINICIAN, {
  id: needed(name("Id of a check message that was seen and accepted."), "the id of the message accepted"),
  reason: needed(line("Why it stands as it is."), "the reason for accepting"),
});

export const sendTo = list(RECIPIENT_KEYS, "Who receives the letter.", { most: 20 });
