/** The problems the batch room can report, with their meaning and cure; the help page is made from this table. */
import type { ProblemKind } from "../base/problem.js";
import { FOLDER_PROBLEMS } from "../clinic-folder/find.js";
import { IDENTITY_PROBLEMS } from "../clinic-folder/identity-problems.js";

export const BATCH_PROBLEMS = {
  ...FOLDER_PROBLEMS,
  ...IDENTITY_PROBLEMS,
  "no-such-visit": {
    meaning: "The worklist names a visit file that does not exist.",
    cure: "Check the path; it is read from the folder of the worklist.",
  },
  "outside-folder": {
    meaning: "The worklist names a file outside its own folder.",
    cure: "Keep the worklist in a folder above the visits, or name that folder with --visits.",
  },
  "listed-twice": {
    meaning: "The worklist names a visit twice.",
    cure: "Remove one of the two lines.",
  },
  "bad-worklist": {
    meaning: "A line of the worklist cannot be read.",
    cure: "Columns are visit, documents, paper, language, large_print; only visit is needed.",
  },
  "no-clinic-file": {
    meaning: "No clinic file stands beside the visit or above it.",
    cure: "Put clinic.yaml into the folder, or name it with --clinic.",
  },
  "visit-id-twice": {
    meaning: "Two visit files carry the same visit id; neither was made.",
    cure: "Give each visit its own id.",
  },
  "name-taken": {
    meaning: "Another visit has already made a file of that name.",
    cure: "Give each visit its own id; capital and small letters count as the same.",
  },
  "too-many-pages": {
    meaning: "A document grew beyond the number of pages that may be made.",
    cure: "Shorten the free text of the visit.",
  },
  "took-too-long": {
    meaning: "A visit took longer than the time allowed and was stopped.",
    cure: "Run whorl letter on the visit alone; report it if it is an ordinary visit.",
  },
  "worker-failed": {
    meaning: "Whorl itself failed on this visit.",
    cure: "Run whorl letter on the visit alone and report what it says.",
  },
  "edited-while-made": {
    meaning:
      "The visit, or a file that belongs to it, was edited again and again while its letters were made.",
    cure: "Wait until the editing is done, then run the batch again.",
  },
  "nothing-made": {
    meaning: "The visit made no document.",
    cure: "Run whorl check on the visit.",
  },
  "unreadable-pdf": {
    meaning: "The document cannot be read back as PDF; it may be cut off.",
    cure: "Run the batch again: it makes the document anew.",
  },
  "missing-document": {
    meaning: "The document is not where the manifest says.",
    cure: "Run the batch again.",
  },
  "not-as-made": {
    meaning: "The file is not the one that was made: its bytes have changed.",
    cure: "Find out who changed or swapped it, then run the batch again.",
  },
  "visit-changed": {
    meaning: "The visit, the clinic file or a template has changed since the document was made.",
    cure: "Run the batch again.",
  },
  "patient-not-named": {
    meaning: "A page does not carry the name and number of the patient.",
    cure: "Look at the foot of the page and at the words.yaml of your templates.",
  },
  "other-patient": {
    meaning: "Identifiers of another patient of the run stand in the document.",
    cure: "Look for a passage that belongs to another visit. If it is meant, add accept: [{ id: other-patient, reason: ... }] to the visit.",
  },
  "impression-differs": {
    meaning: "The impression is not in the document as recorded.",
    cure: "Compare the document with the visit; check your own templates.",
  },
  "plan-differs": {
    meaning: "A line of the plan is not in the document as recorded.",
    cure: "Compare the document with the visit; check your own templates.",
  },
  "page-count-differs": {
    meaning: "The pages are not numbered as they should be, or there are more or fewer than stated.",
    cure: "Run the batch again; a page may be missing.",
  },
  "address-differs": {
    meaning: "The window does not show the recipient's name and address, and nothing else.",
    cure: "Check the address in the visit and the address_window of the clinic file.",
  },
  "text-clipped": {
    meaning: "Text reaches beyond the edge of the page.",
    cure: "Shorten the passage, or look at your own template.",
  },
  "text-missing": {
    meaning: "Words of the composed letter are not in the document.",
    cure: "Run the batch again; report it if it happens twice.",
  },
  "text-added": {
    meaning: "The document holds words that the composed letter does not have.",
    cure: "Find out who edited it, then run the batch again.",
  },
  "text-moved": {
    meaning: "The document holds the letter's words, but in another order.",
    cure: "Find out who edited it, then run the batch again.",
  },
  "signs-differ": {
    meaning:
      "A passage has its words but not its signs: a decimal point, per cent, minus, less-than or the like is another.",
    cure: "Find out who edited it, then run the batch again.",
  },
  "page-turned": {
    meaning: "A page is turned on its side or upside down.",
    cure: "Find out who turned it, then run the batch again.",
  },
  "page-cut": {
    meaning: "A page is not a whole sheet of the letter's paper: it is cut, moved or scaled.",
    cure: "Find out who changed it, then run the batch again.",
  },
  "drawn-differently": {
    meaning:
      "Something on the pages is not as the visit draws it: a drawing, a picture, a typeface, a cover over the text.",
    cure: "Run the batch again. Another version of Whorl may draw the same letter in another way.",
  },
  "print-run-differs": {
    meaning:
      "The print run is not what the letters of the folder give: pages, order, blank backs or its end.",
    cure: "Make the print run again with --print-run.",
  },
  "blank-page": {
    meaning: "A page carries nothing but its foot.",
    cure: "Look at your own template; report it if the template is ours.",
  },
  "caution-missing": {
    meaning: "A caution for this reader is not in the document.",
    cure: "Put the cautions back into your own template.",
  },
  "draft-mark-missing": {
    meaning: "A page of an unsigned letter carries no DRAFT mark.",
    cure: "Run the batch again; report it if it happens twice.",
  },
  "draft-mark-wrong": {
    meaning: "A signed letter carries a DRAFT mark.",
    cure: "Run the batch again: the visit may have been signed since.",
  },
} satisfies Record<string, ProblemKind>;

export type BatchProblemId = keyof typeof BATCH_PROBLEMS;
