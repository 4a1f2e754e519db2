/** The problems the page room can report, with their meaning and cure; the help page is made from this table. */
import type { Problem, ProblemKind } from "../base/problem.js";

export const PAGE_PROBLEMS = {
  "unknown-element": {
    meaning: "A template uses an HTML element that the page does not set.",
    cure: "Use the elements listed in templates/README.md.",
  },
  "unknown-class": {
    meaning: "A template uses a class that the page does not know on that element.",
    cure: "Use the classes listed in templates/README.md.",
  },
  "unknown-attribute": {
    meaning:
      "A template uses an attribute that the page does not know on that element, or a value it does not allow.",
    cure: "Use the attributes listed in templates/README.md.",
  },
  "misplaced-element": {
    meaning: "An element stands where the page cannot set it, such as a paragraph inside a paragraph.",
    cure: "Move the element; templates/README.md says what may stand where.",
  },
  "unclosed-element": {
    meaning: "An element is closed that was never opened, or is never closed.",
    cure: "Check the start and end tags of the template.",
  },
  "figure-without-alternative": {
    meaning: "A drawing or photo has no words for a reader who cannot see it.",
    cure: "Give the drawing an aria-label, the photo an alt, or aria-hidden to a mere ornament.",
  },
  "drawing-not-set": {
    meaning: "A drawing is not well-formed SVG or uses a part of SVG that cannot be printed safely.",
    cure: "Use plain shapes, paths, text, patterns and gradients inside the drawing, with width and height.",
  },
  "photo-missing": {
    meaning: "A letter shows a photo that was not given to it.",
    cure: "Check the photo names in the visit file and the template.",
  },
  "ragged-table": {
    meaning: "The rows of a table do not have the same number of cells.",
    cure: "Give every row as many cells as the widest row, or use colspan.",
  },
  "no-glyph": {
    meaning: "No typeface at hand has a sign for a character, so it would print as nothing.",
    cure: 'Put a typeface for that script into the folder that "fonts:" of the clinic file names, or write the word in Latin letters.',
  },
  "typeface-missing": {
    meaning: "The folder that the clinic file names for its own typefaces cannot be read or holds none.",
    cure: 'Put TTF or OTF files into the folder, or take "fonts:" out of the clinic file.',
  },
  "typeface-broken": {
    meaning: "A file in the clinic's folder of typefaces is no typeface that can be read.",
    cure: "Replace the file by the TTF or OTF of the typeface's makers.",
  },
  "right-to-left": {
    meaning: "A passage written from right to left is too long or too mixed to be set faithfully.",
    cure: "Shorten the passage, or write it in Latin letters.",
  },
  "hidden-characters": {
    meaning: "The text held invisible characters that steer or hide text; they were left out.",
    cure: "Type the passage afresh instead of pasting it.",
  },
  "content-lost": {
    meaning: "The page could not hold everything that was to be printed, so no file was made.",
    cure: "Shorten the passage named, or report the letter's template to the makers.",
  },
  "address-does-not-fit": {
    meaning: "An address does not fit on the label or envelope, even in the smallest type.",
    cure: "Choose a larger label or envelope, or shorten the address in the visit file.",
  },
  "page-failed": {
    meaning: "The page could not be made.",
    cure: "Report the template and the version to the makers.",
  },
  "photo-broken": {
    meaning: "A photo cannot be read as JPEG or PNG.",
    cure: "Save the photo again as JPEG or PNG.",
  },
  "photo-too-large": {
    meaning: "A photo has more bytes or pixels than may be set.",
    cure: "Save the photo smaller.",
  },
} satisfies Record<string, ProblemKind>;

export type PageProblemId = keyof typeof PAGE_PROBLEMS;

/** An error of the page room. Messages name elements and positions, never the text of a patient. */
export function pageError(id: PageProblemId, message: string, place: Partial<Problem> = {}): Problem {
  return { severity: "error", id, message, ...place };
}
