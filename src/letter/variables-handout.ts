/** What a handout alone prints. */
import { flag, list, number, text, texts } from "./variable-kinds.js";

const pictured = {
  id: text("id"),
  drawing: text("name of the drawing, for `drawing`"),
  name: text("plain name"),
  amount: text("how much, in plain words; may be empty"),
  means: text("one plain sentence"),
};

export const handoutVariables = {
  pictured: list("findings for the handout, each with a drawing", pictured),
  drawn: list("of `pictured`, those that no photo shows", pictured),
  photosPlain: list("photos with numbered marks, for the patient", {
    drawing: text("name of the photo, for `drawing`"),
    site: text("where, in plain words"),
    legend: list("what each number points at", {
      number: number("as drawn"),
      name: text("plain name"),
      amount: text("how much, in plain words; may be empty"),
      means: text("one plain sentence; may be empty"),
    }),
  }),
  named: list("what the handout says of each impression it may name", {
    name: text("plain name"),
    says: list("the impression with its certainty, as a sentence in pieces", {
      text: text("words with the spaces round them"),
      isName: flag("a name of the impression"),
    }),
    say: text("how to say the name; may be empty"),
    is: texts("what it is"),
    means: texts("what it means"),
    next: texts("what usually happens next"),
  }),
  nameKept: flag("an impression is recorded, and none may be named"),
  placesPlain: texts("places with their numbers, where there are many sites; else none"),
  resultsPlain: list("tests with result, for the patient; none while a name is kept back", {
    says: text("name and result"),
    flag: text("that the figure lies below or above the range; may be empty"),
    within: text("that the figure lies within the range; may be empty"),
  }),
  help: list("when to get help", {
    fast: text("how fast"),
    call: texts("whom to call"),
    signs: texts("signs"),
  }),
  questions: texts("questions to bring"),
  glossary: list("words explained", { word: text("word"), means: text("explanation") }),
};
