/** Every problem that Whorl can report: what it means and what cures it. The only place that names them; the help page is made from it. */
import type { ProblemKind, Severity, VisitProblemKind } from "./problem-kind.js";

const ONE_PERSON =
  "Correct the number of the visit that is another's. If it is one person, accept this id in the later visit, with the reason.";

export const FILE_PROBLEMS = {
  "missing-file": {
    severity: "error",
    meaning: "There is no file of that name.",
    example: "whorl check vists/0141.yaml",
    cure: "Check the name and the folder.",
  },
  "not-a-file": {
    severity: "error",
    meaning: "The name belongs to a folder or a device.",
    example: "whorl check visits/",
    cure: "Name one file.",
  },
  "unreadable-file": {
    severity: "error",
    meaning: "The file is there but the computer does not let it be read.",
    example: "A file of another user.",
    cure: "Check the permissions of the file.",
  },
  "file-too-big": {
    severity: "error",
    meaning: "The file is larger than 1 MiB, far more than a visit needs.",
    example: "A photograph saved under the visit's name.",
    cure: "Check that the right file was named; keep photographs in their own files.",
  },
  "empty-file": {
    severity: "error",
    meaning: "The file holds nothing but space or comments.",
    example: "# visit",
    cure: "Write the visit, or begin from a fresh skeleton.",
  },
  "not-utf8": {
    severity: "error",
    meaning: "The bytes are not text in UTF-8 or UTF-16.",
    example: "Sølheim saved by an old editor in Windows-1252.",
    cure: "Save the file again as UTF-8.",
  },
  "not-text": {
    severity: "error",
    meaning: "The file holds zero bytes, so it is not text.",
    example: "A PDF named 0141.yaml.",
    cure: "Check that the right file was named.",
  },
  "yaml-syntax": {
    severity: "error",
    meaning: "The text cannot be read as YAML.",
    example: "findings: [yellow dots: few",
    cure: "Mend the line shown: indentation, colon and space, quotes, brackets.",
  },
  "duplicate-key": {
    severity: "error",
    meaning: "One key stands twice in one place, so one of the two values would be lost.",
    example: "born: 1991-07-04 ... born: 1919-07-04",
    cure: "Keep the right one.",
  },
  "several-documents": {
    severity: "error",
    meaning: "The file holds more than one YAML document.",
    example: "--- in the middle of a file",
    cure: "One file holds one visit; split it.",
  },
  "too-deep": {
    severity: "error",
    meaning: "The file is nested deeper than a visit can be.",
    example: "[[[[[[[[[[[[",
    cure: "Check the brackets and the indentation.",
  },
  "too-many-aliases": {
    severity: "error",
    meaning: "The file repeats parts of itself by alias too often.",
    example: "a: &a [*b, *b, *b]",
    cure: "Write the values out.",
  },
  "too-many-problems": {
    severity: "note",
    meaning: "The list of problems was cut.",
    example: "A file of another kind.",
    cure: "Mend the first ones and check again.",
  },
  "tab-indent": {
    severity: "error",
    meaning: "A tab is used to indent; YAML takes spaces only.",
    example: "<tab>status: signed",
    cure: "Use two spaces for each step.",
  },
  "out-of-step": {
    severity: "error",
    meaning: "A line is indented further or less than the lines it belongs with.",
    example: "A fourth space before born, where the lines beside it have two.",
    cure: "Indent it as the message says.",
  },
  "missing-space": {
    severity: "error",
    meaning: "The space after a colon is missing.",
    example: "status:signed",
    cure: "Write a space after the colon.",
    schemaSees: true,
  },
  "equals-sign": {
    severity: "error",
    meaning: "An equals sign stands where a colon belongs.",
    example: "status = signed",
    cure: "Write a colon and a space.",
    schemaSees: true,
  },
  "missing-quote": {
    severity: "error",
    meaning: "A quote is opened and not closed, or a quote stands inside quotes of its own kind.",
    example: "reason: 'It's thinning'",
    cure: "Leave the quotes away, or double the inner one.",
  },
  "unclosed-bracket": {
    severity: "error",
    meaning: "A bracket is opened and never closed.",
    example: "diameters_um: [72, 35, 58",
    cure: "Close it.",
  },
  "colon-in-value": {
    severity: "error",
    meaning: "A value holds a colon and a space, which begins a new key.",
    example: "reason: Second visit: more shedding",
    cure: "Put the value in quotes.",
  },
  "text-after-hash": {
    severity: "error",
    meaning: "Text follows a # after a space; YAML takes it for a remark and leaves it out.",
    example: "reason: Patch #2 is larger and painful",
    cure: "Put the value in quotes; write two spaces before the # of a remark and one after it.",
  },
  "curly-quotes": {
    severity: "warning",
    meaning: "Curly quotes do not quote in YAML: they stay in the value.",
    example: "family: “Brandt”",
    cure: "Use straight quotes or none.",
  },
  "curly-quoted-word": {
    severity: "error",
    meaning: "Curly quotes stand around a word or number and are taken as part of it.",
    example: "yellow dots: “few”",
    cure: "Use straight quotes or none.",
    schemaSees: true,
  },
  "broken-letters": {
    severity: "warning",
    meaning: "The text looks as if it was saved in one encoding and read in another.",
    example: "SÃ¸lheim",
    cure: "Write the letters again and save as UTF-8.",
  },
  "left-empty": {
    severity: "warning",
    meaning: "A key has no value; it is read as left out.",
    example: "yellow dots:",
    cure: "Write the value, or remove the key.",
  },
  "unknown-key": {
    severity: "error",
    meaning: "The key does not belong to this place.",
    example: "hair-care: [braids]",
    cure: "Correct or move it.",
    schemaSees: true,
  },
  "misplaced-finding": {
    severity: "error",
    meaning: "A finding stands beside the findings instead of among them.",
    example: "yellow dots: few, directly under a site",
    cure: "Indent it below findings.",
    schemaSees: true,
  },
  "unknown-word": {
    severity: "error",
    meaning: "The word is none of those that this place takes.",
    example: "yelow dots: few",
    cure: "Use one of the accepted words; case and hyphens do not matter.",
    schemaSees: true,
  },
  "missing-key": {
    severity: "error",
    meaning: "Something a letter cannot do without is left out.",
    example: "A patient without a date of birth.",
    cure: "Write it.",
    schemaSees: true,
  },
  "wrong-shape": {
    severity: "error",
    meaning: "A single value, a list and a group of keys were mistaken for one another.",
    example: "sites: left parietal",
    cure: "Write it as the message says.",
    schemaSees: true,
  },
  "not-a-number": {
    severity: "error",
    meaning: "A number belongs here.",
    example: "duration_weeks: five",
    cure: "Write figures only; the unit is in the key.",
    schemaSees: true,
  },
  "unit-in-value": {
    severity: "error",
    meaning: "The unit is written with the number; it belongs to the key alone.",
    example: "length_mm: 32mm",
    cure: "Write the number alone, in the unit of the key.",
    schemaSees: true,
  },
  "unit-in-key": {
    severity: "error",
    meaning: "The key asks for another unit than this place counts in.",
    example: "duration_months: 5",
    cure: "Write the key and the number as the message says.",
    schemaSees: true,
  },
  "decimal-comma": {
    severity: "error",
    meaning: "The decimals are set off by a comma.",
    example: "field_diameter_mm: 11,5",
    cure: "Use a point.",
    schemaSees: true,
  },
  "not-whole": {
    severity: "error",
    meaning: "Things are counted in whole numbers.",
    example: "hairs: 84.5",
    cure: "Write a whole number.",
    schemaSees: true,
  },
  "out-of-range": {
    severity: "error",
    meaning: "The number lies outside what this place can hold.",
    example: "itch: 12",
    cure: "Check the number and its unit.",
    schemaSees: true,
  },
  "not-a-date": {
    severity: "error",
    meaning: "A date belongs here, as year-month-day.",
    example: "born: 4 July 1991",
    cure: "Write 1991-07-04.",
    schemaSees: true,
  },
  "date-order": {
    severity: "error",
    meaning: "The date is written day first or month first, which can be misread.",
    example: "born: 04/07/1991",
    cure: "Write year-month-day.",
    schemaSees: true,
  },
  "no-such-day": {
    severity: "error",
    meaning: "The calendar has no such day.",
    example: "date: 2026-02-30",
    cure: "Check day and month.",
  },
  "not-yes-or-no": {
    severity: "error",
    meaning: "This place takes true or false.",
    example: "copy: maybe",
    cure: "Write true or false.",
    schemaSees: true,
  },
  "amount-as-number": {
    severity: "error",
    meaning: "A bare number does not say in how many fields the finding was counted.",
    example: "black dots: 14",
    cure: "Write { count: 14, fields: 2 }, or an amount in words.",
    schemaSees: true,
  },
  "amount-as-yes": {
    severity: "error",
    meaning: "Yes or present does not say how much; no does not say whether it was looked for.",
    example: "yellow dots: yes",
    cure: "Write an amount, seen for present without a grade, or none for looked for and not seen.",
    schemaSees: true,
  },
  "count-zero": {
    severity: "error",
    meaning: "A count of nothing: looked for and not seen has its own word.",
    example: "black dots: { count: 0 }",
    cure: "Write none.",
    schemaSees: true,
  },
  "phototype-figure": {
    severity: "error",
    meaning: "Phototypes are written in Roman figures.",
    example: "phototype: 3",
    cure: "Write III.",
    schemaSees: true,
  },
  "text-too-long": {
    severity: "error",
    meaning: "The text or list is longer than a letter can carry.",
    example: "A whole report pasted into reason.",
    cure: "Shorten it.",
    schemaSees: true,
  },
  "bad-character": {
    severity: "error",
    meaning: "The text holds a character that shows nothing or turns the direction of reading.",
    example: "Text pasted from a web page.",
    cure: "Type the text again at that place.",
  },
  "bad-id": {
    severity: "error",
    meaning: "An id also names files, so it must do without slashes and the like.",
    example: "id: TS/2026/0141",
    cure: "Use letters, digits, hyphens, dots or underscores.",
    schemaSees: true,
  },
  "bad-language": {
    severity: "error",
    meaning: "This is not the tag of a language people write in.",
    example: "language: English",
    cure: "Write a tag such as en-GB.",
    schemaSees: true,
  },
  "bad-phone": {
    severity: "error",
    meaning: "A telephone number holds something that cannot be dialled.",
    example: "phone: ask at the desk",
    cure: "Write figures, spaces and + ( ) - only.",
    schemaSees: true,
  },
  "bad-email": {
    severity: "error",
    meaning: "This is not an e-mail address.",
    example: "email: desk at example",
    cure: "Write it as name@place.",
    schemaSees: true,
  },
  "bad-country": {
    severity: "error",
    meaning: "Countries are named by their two-letter code.",
    example: "country: Britain",
    cure: "Write GB.",
    schemaSees: true,
  },
  "bad-path": {
    severity: "error",
    meaning: "The file must lie in the visit's own folder or below it.",
    example: "file: ../other-patient/1.jpg",
    cure: "Move the file and write its name from this folder on.",
    schemaSees: true,
  },
} as const satisfies Record<string, VisitProblemKind>;

export const CONTRADICTION_PROBLEMS = {
  "format-assumed": {
    severity: "note",
    meaning: "The version of the format is left out; the first is assumed.",
    example: "A file without format.",
    cure: "Write format: 1 at the top.",
  },
  "unknown-person": {
    severity: "error",
    meaning: "The key under seen_by is no person of the clinic file.",
    example: "seen_by: a-thorsby",
    cure: "Use a key of people in the clinic file.",
  },
  "may-not-sign": {
    severity: "error",
    meaning: "A signed visit names someone who does not sign letters.",
    example: "status: signed, seen_by: the clinic's secretary",
    cure: "Name the person who signs, or keep the visit a draft.",
  },
  "no-registration": {
    severity: "warning",
    meaning: "A person who signs has no registration number for the signature block.",
    example: "may_sign: true without registration",
    cure: "Write the number.",
  },
  "nobody-signs": {
    severity: "warning",
    meaning: "No person of the clinic may sign, so every visit stays a draft.",
    example: "people without may_sign",
    cure: "Write may_sign: true for those who sign.",
  },
  "no-emergency": {
    severity: "warning",
    meaning: "The clinic file has no line for urgent help.",
    example: "A clinic file without emergency.",
    cure: "Write label and number of at least one line.",
  },
  "status-assumed": {
    severity: "warning",
    meaning: "It is not said whether the visit is a draft or signed; a draft is assumed.",
    example: "A visit without status.",
    cure: "Write status: draft or status: signed.",
  },
  "reason-missing": {
    severity: "warning",
    meaning: "The reason for the visit is left out. A signed letter needs it.",
    example: "A visit without reason.",
    cure: "Write it in a sentence.",
  },
  "sex-missing": {
    severity: "warning",
    meaning: "Sex is left out; the letter will say not stated.",
    example: "A patient without sex.",
    cure: "Write it, or not stated.",
  },
  "finding-twice": {
    severity: "error",
    meaning: "One finding is recorded twice at a site under two spellings.",
    example: "black dots: few, cadaverised hairs: few",
    cure: "Keep one line.",
  },
  "answer-twice": {
    severity: "error",
    meaning: "One question is answered twice under two spellings, with yes and with no.",
    example: "boggy swelling: yes, boggy scalp: no",
    cure: "Keep the right line.",
  },
  "none-and-seen": {
    severity: "error",
    meaning: "One finding is recorded both as seen and as not seen at a site.",
    example: "black dots: none, cadaverised hairs: { count: 3 }",
    cure: "Keep the right line.",
  },
  "count-and-fields-turned": {
    severity: "warning",
    meaning:
      "More fields than structures, and more fields than one usually counts: the two numbers may be turned.",
    example: "black dots: { count: 2, fields: 14 }",
    cure: "Turn them, or accept the message with a reason.",
  },
  "look-alike-letters": {
    severity: "warning",
    meaning:
      "A letter of another script stands among Latin ones and looks like one of them, so that a search misses the name.",
    example: "A Cyrillic M in TS-MR-40417.",
    cure: "Type the word again in one script.",
  },
  "count-implausible": {
    severity: "warning",
    meaning: "More of a finding is counted than a field of view can show.",
    example: "yellow dots: { count: 900 }",
    cure: "Check the count and the number of fields.",
  },
  "site-twice": {
    severity: "error",
    meaning: "A region is named twice without a different place for each.",
    example: "two entries for left parietal",
    cure: "Join the entries, or give each its place with at.",
  },
  "site-empty": {
    severity: "warning",
    meaning: "Nothing is recorded at a site.",
    example: "- site: occipital",
    cure: "Record what was seen and what was not, or remove the site.",
  },
  "nothing-recorded": {
    severity: "warning",
    meaning: "The visit has no site, so the letter has no findings.",
    example: "A visit without sites.",
    cure: "Record at least one site.",
  },
  "thin-more-than-hairs": {
    severity: "error",
    meaning: "More thin hairs than hairs in a field.",
    example: "hairs: 8, thin: 9",
    cure: "Check both counts.",
  },
  "vellus-more-than-hairs": {
    severity: "error",
    meaning: "More vellus hairs than hairs in a field.",
    example: "hairs: 8, vellus: 9",
    cure: "Check both counts.",
  },
  "vellus-more-than-thin": {
    severity: "warning",
    meaning: "More vellus hairs than thin hairs in a field; vellus hairs are thin.",
    example: "thin: 3, vellus: 9",
    cure: "Count vellus hairs among the thin ones.",
  },
  "units-more-than-hairs": {
    severity: "error",
    meaning: "The follicular units hold more hairs than were counted in the field; a few are a warning.",
    example: "hairs: 48, units: { 1: 21, 2: 24 }",
    cure: "Check both counts.",
  },
  "field-diameter-implausible": {
    severity: "warning",
    meaning: "The field of view is too small or too large for a dermoscope.",
    example: "field_diameter_mm: 110",
    cure: "Check the number and its unit.",
  },
  "diameters-in-mm": {
    severity: "error",
    meaning: "Shaft diameters look like millimetres; they are written in micrometres.",
    example: "diameters_um: [0.061]",
    cure: "Write 61.",
  },
  "patch-exceeds-head": {
    severity: "error",
    meaning: "A patch is larger than a scalp.",
    example: "length_mm: 400",
    cure: "Check the number and its unit.",
  },
  "patch-exceeds-region": {
    severity: "warning",
    meaning: "A patch is larger than the region it is recorded in; far larger is an error.",
    example: "length_mm: 320 at the left parietal region",
    cure: "Check the measures, or record each region.",
  },
  "patch-turned": {
    severity: "note",
    meaning: "The patch is wider than long.",
    example: "length_mm: 25, width_mm: 32",
    cure: "Write the longer measure as the length.",
  },
  "extent-as-fraction": {
    severity: "warning",
    meaning: "Extent looks like a fraction; it is written in percent.",
    example: "left: 0.05",
    cure: "Write 5.",
  },
  "came-out-more-than-pulled": {
    severity: "error",
    meaning: "More hairs came out than were pulled.",
    example: "pulled: 6, came_out: 8",
    cure: "Check both counts.",
  },
  "anagen-more-than-came-out": {
    severity: "error",
    meaning: "More anagen hairs than hairs that came out.",
    example: "came_out: 2, anagen: 8",
    cure: "Check both counts.",
  },
  "pulled-implausible": {
    severity: "warning",
    meaning: "So many hairs cannot be pulled at once.",
    example: "pulled: 600",
    cure: "Check the count.",
  },
  "pull-test-twice": {
    severity: "warning",
    meaning: "Two pull tests are recorded at one site.",
    example: "two lines for left parietal",
    cure: "Keep one, or accept.",
  },
  "born-after-visit": {
    severity: "error",
    meaning: "The patient would have been born after the visit.",
    example: "born: 2026-07-04, date: 2026-03-12",
    cure: "Check both dates.",
  },
  "too-old": {
    severity: "error",
    meaning: "The patient would be older than 120 years.",
    example: "born: 1891-07-04",
    cure: "Check the year.",
  },
  "title-against-age": {
    severity: "warning",
    meaning: "A child bears a title of adults, so the year of birth may be wrong.",
    example: "title: Mrs, born: 2019-07-04",
    cure: "Check the year of birth and the title.",
  },
  "longer-than-life": {
    severity: "error",
    meaning: "The trouble has lasted longer than the patient has lived.",
    example: "duration_weeks: 500 for a child of 7",
    cure: "Check the weeks and the date of birth.",
  },
  "pregnancy-unlikely": {
    severity: "warning",
    meaning: "Pregnancy does not fit the sex or age recorded.",
    example: "pregnancy: pregnant, born: 2019-07-04",
    cure: "Check all three.",
  },
  "visit-in-future": {
    severity: "warning",
    meaning: "The visit lies ahead of today.",
    example: "date: 2062-03-12",
    cure: "Check the date.",
  },
  "visit-long-ago": {
    severity: "warning",
    meaning: "The visit lies further back than files of this kind go.",
    example: "date: 1026-03-12",
    cure: "Check the year.",
  },
  "year-against-id": {
    severity: "note",
    meaning: "The year in the visit's number is not that of its date.",
    example: "id: TS-2026-0141, date: 2025-03-12",
    cure: "Check both.",
  },
  "test-before-birth": {
    severity: "error",
    meaning: "A test is dated before the patient was born.",
    example: "date: 1926-03-01",
    cure: "Check the date.",
  },
  "test-after-visit": {
    severity: "warning",
    meaning: "A test is dated after the visit.",
    example: "date: 2026-03-21 for a visit of 2026-03-12",
    cure: "Check the date, or accept when the result came in later.",
  },
  "test-without-result": {
    severity: "warning",
    meaning: "A test has neither a value nor a result.",
    example: "name: ferritin",
    cure: "Write result: awaited.",
  },
  "figure-in-result": {
    severity: "warning",
    meaning: "A figure among the words of a result leaves the unit or the range beside it unused.",
    example: 'name: ferritin, result: "14", unit: ug/L',
    cure: "Write it as value, with its unit.",
  },
  "value-without-unit": {
    severity: "warning",
    meaning: "A figure without its unit can be misread.",
    example: "name: ferritin, value: 18",
    cure: "Write the unit.",
  },
  "test-twice": {
    severity: "warning",
    meaning: "One test stands twice for the same day.",
    example: "ferritin twice",
    cure: "Keep one.",
  },
  "impression-against-itself": {
    severity: "error",
    meaning: "One disorder has two certainties.",
    example: "definite and excluded",
    cure: "Keep the right one.",
  },
  "impression-twice": {
    severity: "warning",
    meaning: "One disorder stands twice.",
    example: "alopecia areata twice",
    cure: "Keep one line.",
  },
  "signed-without-impression": {
    severity: "error",
    meaning: "A signed visit needs the clinician's impression.",
    example: "status: signed without impression",
    cure: "Record it, or keep the visit a draft.",
  },
  "no-impression": {
    severity: "note",
    meaning: "The draft has no impression yet.",
    example: "A draft without impression.",
    cure: "Record it before signing.",
  },
  "only-excluded": {
    severity: "warning",
    meaning: "The impression only says what it is not.",
    example: "every line: excluded",
    cure: "Add what is thought, with its certainty.",
  },
  "signed-without-plan": {
    severity: "warning",
    meaning: "A signed visit has no plan.",
    example: "status: signed without plan",
    cure: "Record who does what.",
  },
  "no-plan": {
    severity: "note",
    meaning: "The draft has no plan yet.",
    example: "A draft without plan.",
    cure: "Record it before signing.",
  },
  "no-recipient": {
    severity: "warning",
    meaning: "Nobody is named to send the letter to.",
    example: "A visit without send_to.",
    cure: "Name the receiving doctor.",
  },
  "only-copies": {
    severity: "warning",
    meaning: "Everybody named only gets a copy.",
    example: "copy: true for all",
    cure: "Say who is written to.",
  },
  "recipient-without-address": {
    severity: "warning",
    meaning: "A recipient has no address, so the letter cannot be posted.",
    example: "name without address",
    cure: "Write the address.",
  },
  "recipient-twice": {
    severity: "warning",
    meaning: "One person is named twice among the recipients.",
    example: "Dr Ilse Brandt twice",
    cure: "Keep one.",
  },
  "patient-without-address": {
    severity: "note",
    meaning: "The patient has no address, so the handout cannot be posted.",
    example: "A patient without address.",
    cure: "Write the address where it is wanted.",
  },
  "follow-up-now": {
    severity: "warning",
    meaning: "A follow-up in no weeks is this visit.",
    example: "weeks: 0",
    cure: "Write the weeks, or leave follow_up out.",
  },
  "follow-up-far": {
    severity: "warning",
    meaning: "The next visit is more than two years away.",
    example: "weeks: 182",
    cure: "Check that weeks and not days are written.",
  },
  "photo-without-field": {
    severity: "warning",
    meaning: "A photograph belongs to a field that was not counted.",
    example: "field: 3 of 1",
    cure: "Check the number.",
  },
  "photo-twice": {
    severity: "warning",
    meaning: "One photograph is named twice.",
    example: "photos/left-1.jpg twice",
    cure: "Keep one.",
  },
  "photo-kind": {
    severity: "warning",
    meaning: "Only JPEG and PNG files can be printed.",
    example: "photos/left-1.heic",
    cure: "Save the photograph as JPEG.",
  },
  "plan-twice": {
    severity: "warning",
    meaning: "One line of the plan stands twice.",
    example: "the same action twice",
    cure: "Keep one.",
  },
} as const satisfies Record<string, VisitProblemKind>;

export const MARKS_PROBLEMS = {
  "marks-unreadable": {
    severity: "error",
    meaning: "A marks file cannot be read as text.",
    cure: "Take its last good copy, or remove it and mark the photo again.",
  },
  "marks-shape": {
    severity: "error",
    meaning: "A value of a marks file is not what belongs there.",
    cure: "Write what the message expects.",
  },
  "marks-key": {
    severity: "error",
    meaning: "A marks file has a key that nothing reads, or lacks one that is needed.",
    cure: "Use the key that the message names.",
  },
  "marks-word": {
    severity: "error",
    meaning: "A word in a marks file is no finding of the catalogue.",
    cure: "Use a word of whorl catalogue.",
  },
  "marks-other-photo": {
    severity: "error",
    meaning: "The marks were set on another picture: the photo's bytes do not fit their hash.",
    cure: "Put the marked photo back, or mark this one.",
  },
  "marks-other-size": {
    severity: "error",
    meaning: "The marks say another size of the picture than the photo has.",
    cure: "Mark the photo again.",
  },
  "mark-outside": {
    severity: "error",
    meaning: "A mark, a scale line or the area lies outside the picture.",
    cure: "Correct the point; it is in pixels of the upright picture.",
  },
  "mark-twice": {
    severity: "warning",
    meaning: "Two marks of one kind stand on one point, so something may be counted twice.",
    cure: "Remove one of them.",
  },
  "marks-no-scale": {
    severity: "error",
    meaning: "Marks measure something and their picture has no scale.",
    cure: "Give two points and what lies between them, or the field's diameter.",
  },
  "scale-lines-differ": {
    severity: "warning",
    meaning: "Repeated scale lines of one picture disagree by more than a tenth.",
    cure: "Draw them again; one of them may have a wrong length.",
  },
  "scale-implausible": {
    severity: "warning",
    meaning: "By its scale the picture is smaller or larger than any photo of a scalp.",
    cure: "Look whether millimetres were meant.",
  },
  "width-implausible": {
    severity: "warning",
    meaning: "A line across a shaft is wider than any hair, or thinner.",
    cure: "Draw it from edge to edge of one shaft, and look at the scale.",
  },
  "count-against-marks": {
    severity: "error",
    meaning: "A count of the visit is another than the marks of its photo give.",
    cure: "Correct the number or the marks, or leave the number out.",
  },
  "diameter-against-marks": {
    severity: "error",
    meaning: "The diameters of the visit are others than the marks of its photos measure.",
    cure: "Correct the diameters or the lines, or leave the diameters out.",
  },
  "field-against-marks": {
    severity: "error",
    meaning: "The field of view has one diameter in the visit and another in the marks of a photo.",
    cure: "Correct the one that is wrong.",
  },
  "marks-without-field": {
    severity: "error",
    meaning: "Marks count a field, and their photo does not say which of the typed fields it shows.",
    cure: "Write field: and its number beside the photo, or leave the typed fields out.",
  },
} as const satisfies Record<string, ProblemKind & { readonly severity: Severity }>;

export const SEAL_PROBLEMS = {
  "changed-since-signing": {
    meaning: "The visit was changed after it was signed, so it is no longer signed.",
    cure: "Put back what was signed, or make it a draft and sign it again: that letter says that it replaces the one before.",
  },
} as const satisfies Record<string, ProblemKind>;

/** What differs between two visits under one patient number; an error until it is accepted. */
export const SAME_PATIENT_PROBLEMS = {
  "given-differs": {
    meaning: "Two visits under one patient number have different given names.",
    cure: ONE_PERSON,
  },
  "family-differs": {
    meaning: "Two visits under one patient number have different family names.",
    cure: ONE_PERSON,
  },
  "born-differs": {
    meaning: "Two visits under one patient number have different dates of birth.",
    cure: ONE_PERSON,
  },
  "sex-differs": {
    meaning: "Two visits under one patient number have different sexes.",
    cure: ONE_PERSON,
  },
} as const satisfies Record<string, ProblemKind>;

export const LETTER_PROBLEMS = {
  "template-error": {
    meaning: "A template or a part of one cannot be filled.",
    cure: "Correct the line named; templates/VARIABLES.md lists what a template may print.",
  },
  "template-head": {
    meaning: "The lines between --- at the top of a template are not complete.",
    cure: "Give title and reader (doctor, patient, clinician or third party).",
  },
  "no-language-pack": {
    meaning: "There are no words for the language asked for.",
    cure: "Choose another language, or add a folder with words.yaml.",
  },
  "no-own-templates": {
    meaning: "The folder of the clinic's own templates is not there, or holds no folder of a language.",
    cure: "Correct the name of the folder; whorl new templates makes one.",
  },
  "missing-phrase": {
    meaning: "The words of a language lack a phrase that documents print.",
    cure: "Add it to words.yaml.",
  },
  "unknown-document": { meaning: "No template has that name.", cure: "Use one of the names listed." },
  "no-recipient": { meaning: "A letter has nobody to go to.", cure: "Name a recipient under send_to." },
  "hard-sentence": {
    meaning: "A sentence of the handout is hard to read.",
    cure: "Make it shorter, or use plainer words.",
  },
  "unreviewed-pack": {
    meaning: "The words of a language have not been reviewed by a clinician who speaks it from birth.",
    cure: "Have them reviewed before use.",
  },
  "own-words-language": {
    meaning:
      "A document is in another language than the letters of the clinic; what was typed is printed as typed.",
    cure: "Write the plan for the patient in the patient's language.",
  },
} as const satisfies Record<string, ProblemKind>;

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
} as const satisfies Record<string, ProblemKind>;

export const FOLDER_PROBLEMS = {
  "symbolic-link": {
    meaning: "A symbolic link stands where a visit belongs; it was not followed.",
    cure: "Put the file itself into the folder.",
  },
  "not-a-file": {
    meaning: "Something that is no ordinary file stands where a visit belongs.",
    cure: "Put a visit file there, or remove it.",
  },
  "unreadable-folder": {
    meaning: "A folder cannot be read, so the visits in it are not known.",
    cure: "Ask who keeps the disk for the right to read it.",
  },
} as const satisfies Record<string, ProblemKind>;

export const IDENTITY_PROBLEMS = {
  ...SAME_PATIENT_PROBLEMS,
  "visit-of-two-patients": {
    meaning: "One visit number stands in visits of two patients.",
    cure: "Give each visit its own number.",
  },
  "visit-twice": {
    meaning: "One visit number stands in two files of one patient.",
    cure: "Keep one file, or give each visit its own number.",
  },
  "number-looks-alike": {
    meaning:
      "Two patient numbers can be taken for each other: they differ only in look-alike letters, leading zeros, case or spaces.",
    cure: "Write one patient's number the same everywhere. If they are two patients, accept this id with the reason.",
  },
  "one-person-two-numbers": {
    meaning: "One name and date of birth stand under two patient numbers.",
    cure: "If it is one person, keep one number; earlier visits are not compared across numbers. If they are two, accept this id.",
  },
  "nearly-one-person": {
    meaning: "Name, date of birth and patient number nearly agree with a visit under another number.",
    cure: "Look for a slip in the number, the name or the date of birth. If they are two people, accept this id.",
  },
  "photo-of-two-patients": {
    meaning: "One photo stands in visits of two patients.",
    cure: "Take it out of the visit that it does not belong to, or accept this id with the reason.",
  },
  "name-spelled-differently": {
    meaning: "The name is spelled or ordered differently in another visit of the patient.",
    cure: "Write it the same way in all visits, or accept this id.",
  },
  "name-without-letters": {
    meaning: "A name holds no letters that can be seen.",
    cure: "Type the name afresh.",
  },
  "mixed-scripts": {
    meaning: "A name or number mixes letters of two scripts that look alike.",
    cure: "Type it afresh with one keyboard.",
  },
} as const satisfies Record<string, ProblemKind>;

export const REGISTER_PROBLEMS = {
  "content-not-kept": {
    meaning: "The register names a document whose content is not kept any more, or was changed.",
    cure: "Fetch the file from a backup of the register's folder.",
  },
  "register-not-merged": {
    meaning: "Two registers could not be brought together.",
    cure: "Check both with whorl register first.",
  },
  "patient-not-known": {
    meaning: "It cannot be made out whose visit a file is.",
    cure: "Run whorl check on it, then the command again.",
  },
  "register-broken": {
    meaning: "The register is not as it was written: a line was changed, taken out, put in or moved.",
    cure: "Compare it with a copy or backup from before. Whorl never mends it; it goes on after the last line and keeps saying so.",
  },
  "register-cut": {
    meaning: "Lines at the end of the register are missing.",
    cure: "Take the lines in from a copy or backup with whorl register merge.",
  },
  "register-torn": {
    meaning: "A run was killed or the disk was full while a line was written; that line says nothing.",
    cure: "Run the command again: what it made is written then.",
  },
  "register-newer": {
    meaning: "A line is of a kind that this version does not know.",
    cure: "Use the version of Whorl that wrote it, or a newer one.",
  },
  "register-unreadable": {
    meaning: "The register cannot be read.",
    cure: "Ask who keeps the disk for the right to read it.",
  },
} as const satisfies Record<string, ProblemKind>;

export const EDITION_PROBLEMS = {
  "changed-since-sent": {
    meaning: "The visit was changed after its letter was sent, and not signed again.",
    cure: "Sign it again with whorl sign or at the desk, with the reason: the new letter says that it replaces the one that was sent.",
  },
} as const satisfies Record<string, ProblemKind>;

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
} as const satisfies Record<string, ProblemKind>;

export const KNOWLEDGE_PROBLEMS = {
  "unknown-id": {
    meaning: "A file names an id that no other file defines.",
    cure: "Correct the id or add the missing file.",
  },
  "unknown-source": {
    meaning: "A value names a source that sources.yaml does not hold.",
    cure: "Add the source, or say `common practice` or `from memory`.",
  },
  "impossible-count": {
    meaning: "More patients had the finding than were examined.",
    cure: "Check both numbers in the source.",
  },
  "evidence-shape": {
    meaning: "A row needs exactly one kind of figure.",
    cure: "Give positive and of, or percent, or range, or frequency.",
  },
  "promoted-memory": {
    meaning: "A value from memory is tied to a publication as if it had been read.",
    cure: "Set `how: memory`.",
  },
  "same-spelling": { meaning: "One spelling stands for two entries.", cure: "Remove it from one of them." },
  "fact-shape": {
    meaning: "A fact lacks what its kind needs.",
    cure: "Add the question, the urgency and who must act, or correct the kind.",
  },
  "unused-source": {
    meaning: "A source that nothing cites.",
    cure: "Remove it, or cite it where it is used.",
  },
} as const satisfies Record<string, ProblemKind>;

export const SAFETY_PROBLEMS = {
  "must-not-miss-open": {
    meaning: "Something that must not be missed is not excluded, and no test, plan line or answer closes it.",
    cure: "Add the test with its result, name the line under `answers:` in the plan, answer the question under `asked:`, or accept the message with a reason.",
  },
  "accepts-all-lines": {
    meaning:
      "One acceptance without a name lets every open line pass, also those that it was not written for.",
    cure: "Write one entry for each line, such as `must-not-miss-open:scarring`, each with its reason.",
  },
  "flag-not-asked": {
    meaning: "The visit calls for a question that has no answer.",
    cure: "Ask it, and write yes or no under `asked:`.",
  },
  "read-from-words": {
    meaning: "A fact was read from free text and raised a line; words settle nothing.",
    cure: "Write it where facts are recorded, with yes or no.",
  },
  "kept-from-handout": {
    meaning:
      "A line of the plan or a test names what others at home must not read, so the handout leaves it out.",
    cure: "Tell the patient in person, or word it without the name.",
  },
  "medicine-not-listed": {
    meaning:
      "A medicine is in no list of ours, so nothing was concluded from it: neither loss of hair nor danger.",
    cure: "Write its generic name, or look up what it does to hair.",
  },
} as const satisfies Record<string, ProblemKind>;

export const AGREEMENT_PROBLEMS = {
  "impression-disagrees": {
    meaning: "The recorded impression and the findings part ways.",
    cure: "Look again, or accept the message with a reason.",
  },
  ...SAFETY_PROBLEMS,
  "plan-contradicts-caution": {
    meaning: "A plan line goes against a caution that applies.",
    cure: "Change the plan, or accept the message with a reason.",
  },
  "thin-evidence": {
    meaning: "A definite impression rests on little that was recorded.",
    cure: "Record what was looked for, seen or not seen, or lower the certainty.",
  },
} as const satisfies Record<string, ProblemKind>;

export const PICTURE_PROBLEMS = {
  "photo-not-found": {
    meaning: "A photo named in the visit is not there.",
    cure: "Correct `file:`; it is read from the visit file's folder.",
  },
  "photo-outside": {
    meaning: "A photo lies outside the visit file's folder, or behind a link.",
    cure: "Copy it into the folder.",
  },
  "logo-unreadable": {
    meaning: "The clinic's logo cannot be used.",
    cure: "Give an SVG without scripts and links, a PNG or a JPEG.",
  },
} as const satisfies Record<string, ProblemKind>;

export const PLAUSIBLE_PROBLEMS = {
  "extent-over-patches": {
    meaning: "Far more hair loss is recorded for an area than its measured patches can cover.",
    cure: "Check the percentage (40 for 4?) and the patch in mm, or add the patches left out.",
  },
  "extent-under-patches": {
    meaning: "The measured patches cover far more of an area than the hair loss recorded for it.",
    cure: "Check the percentage (4 for 40?) and the patch in mm.",
  },
  "extent-zero-with-patch": {
    meaning: "An area is recorded as having no hair loss, yet a patch in it was measured.",
    cure: "Give the loss of that area, or correct the region of the patch.",
  },
  "patch-over-area": {
    meaning: "A patch is larger than its whole area of scalp.",
    cure: "Check the length and width; they are in mm.",
  },
  "patch-tiny": {
    meaning: "A patch is only a few mm across.",
    cure: "Check whether it was measured in cm.",
  },
  "loss-with-full-density": {
    meaning: "An area is recorded as nearly bare, yet many hairs per cm² were counted there.",
    cure: "Check the percentage, the hair counts and the field diameter.",
  },
  "bare-field-without-loss": {
    meaning: "An area is recorded as having no hair loss, yet almost no hairs were counted there.",
    cure: "Check the percentage, the hair counts and the field diameter.",
  },
  "units-against-hairs": {
    meaning: "The follicular units of a field do not add up to its hairs.",
    cure: "Count the field again, or correct the units.",
  },
  "density-too-high": {
    meaning: "More hairs per cm² than any scalp is known to carry.",
    cure: "Check the field diameter, which is in mm, and the hair counts.",
  },
  "density-too-low": {
    meaning: "A field with many hairs yields almost none per cm².",
    cure: "Check the field diameter; 11 mm may have been written as 110.",
  },
  "hairs-per-unit-high": {
    meaning: "Follicular units carry more hairs each than they do.",
    cure: "Check the units: the key is the number of hairs, the value how many such units.",
  },
  "diameter-in-mm": {
    meaning: "Shaft diameters are far too small for µm.",
    cure: "Diameters are in µm: 0.061 mm is 61.",
  },
  "diameter-too-thick": {
    meaning: "A shaft is thicker than human hair.",
    cure: "Check the diameter, which is in µm.",
  },
  "diameters-all-equal": {
    meaning: "Many shafts have exactly one diameter.",
    cure: "Give each shaft as measured.",
  },
  "fields-identical": {
    meaning: "Two fields of one site have the same counts throughout.",
    cure: "Check that one was not entered twice.",
  },
  "thin-shares-disagree": {
    meaning: "The share of thin hairs in the counted fields and among the measured shafts is far apart.",
    cure: "Check both; thin is under 0.03 mm (30 µm).",
  },
  "absent-but-counted": {
    meaning: "A finding is recorded as not seen, yet the fields count it.",
    cure: "Correct the finding or the counts.",
  },
  "seen-but-none-counted": {
    meaning: "A finding is recorded as many or throughout, yet the fields count none.",
    cure: "Correct the finding or the counts.",
  },
  "counts-disagree": {
    meaning: "One finding is counted twice at a site, with very different results.",
    cure: "Keep the right count.",
  },
  "field-against-magnification": {
    meaning: "The field diameter and the magnification do not go together.",
    cure: "Check both; the image would be smaller than a stamp or larger than a wall.",
  },
  "pull-against-shedding": {
    meaning: "A positive pull test, yet shedding is recorded as none.",
    cure: "Check both.",
  },
  "index-against-symptoms": {
    meaning: "A symptom of the activity index and the same symptom rated 0 to 10 contradict each other.",
    cure: "Check both.",
  },
  "index-against-pull": {
    meaning: "The pull test of a score and the recorded pull test contradict each other.",
    cure: "Check both.",
  },
  "index-against-course": {
    meaning: "Spreading in the activity index and the recorded course contradict each other.",
    cure: "Check both.",
  },
  "pluck-of-few": {
    meaning: "Fewer or more hairs were plucked than the test asks for.",
    cure: "Check the four counts.",
  },
  "short-over-total": {
    meaning: "More short hairs than hairs were shed.",
    cure: "Check both counts.",
  },
  "day-stands-out": {
    meaning: "One day's count is ten times another's.",
    cure: "Check the counts of the days.",
  },
} as const satisfies Record<string, ProblemKind>;

export const CHANGE_PROBLEMS = {
  "too-few-visits": {
    meaning: "A comparison needs at least two visits.",
    cure: "Give two or more visit files of one patient.",
  },
  "mixed-patients": {
    meaning: "The visits carry different patient numbers.",
    cure: "Compare visits of one patient only; correct the number if it was mistyped.",
  },
  ...SAME_PATIENT_PROBLEMS,
  "same-visit-twice": {
    meaning: "Two files carry the same visit number.",
    cure: "Leave one out, or correct the number.",
  },
  "same-day-visits": {
    meaning: "Two visits bear one date, so which came first is not known.",
    cure: "Check the dates.",
  },
  "scope-differs": {
    meaning: "The field of view or magnification differs between visits.",
    cure: "Nothing to do if true: densities stay comparable, counts per field do not and are left out.",
  },
  "extent-tenfold": {
    meaning: "The hair loss of an area differs by exactly ten times between two visits.",
    cure: "Check that neither was written as 40 for 4.",
  },
  "density-jump": {
    meaning: "Hair density of well covered scalp changed more between two visits than hair grows or falls.",
    cure: "Check the field diameter, the hair counts and the site of both visits.",
  },
  "diameter-jump": {
    meaning: "Mean shaft diameter changed more between two visits than shafts do.",
    cure: "Check the unit (µm) and the site of both visits.",
  },
} as const satisfies Record<string, ProblemKind>;

export const SENDING_PROBLEMS = {
  "send-unsigned": {
    meaning: "A draft does not leave the clinic.",
    cure: "Sign the visit with whorl sign or at the desk.",
  },
  "send-withdrawn": {
    meaning: "The letter was withdrawn.",
    cure: "Sign the visit again, or make the letter anew with whorl letter, if it shall leave after all.",
  },
  "send-other-bytes": {
    meaning: "The register holds other bytes of the letter than can be had now.",
    cure: "Make the letter anew with whorl letter.",
  },
  "withdrawal-not-written": {
    meaning: "The notice to somebody who was sent the withdrawn letter cannot be made.",
    cure: "Write to them yourself, and withdraw with --no-notices.",
  },
  "send-no-address": {
    meaning: "An addressee has no postal address.",
    cure: "Write it under send_to.",
  },
  "send-names-patient": {
    meaning: "An addressee's name holds the patient's, which has no place in a mail that others can read.",
    cure: "Write the name without it under send_to, such as Mr and Mrs Halvarsen.",
  },
  "send-no-email": {
    meaning: "Clinic or addressee has no e-mail address.",
    cure: "Write email: under send_to, and in the clinic file.",
  },
} as const satisfies Record<string, ProblemKind>;

export const TABLE_PROBLEMS = {
  "column-missing": {
    meaning: "The table lacks a column that the mapping names.",
    cure: "Correct the column's name in the mapping, or add the column.",
  },
  "column-twice": {
    meaning: "Two columns of the table bear one name.",
    cure: "Rename one of them.",
  },
  "table-empty": {
    meaning: "The table holds no rows.",
    cure: "Export it again, with its rows.",
  },
  "table-syntax": {
    meaning: "The table cannot be read as rows and columns.",
    cure: "Save it anew as CSV or XLSX.",
  },
  "decimal-mixed": {
    meaning: "A column holds both decimal commas and decimal points.",
    cure: "Write all numbers of the column alike.",
  },
  "patient-mixed": {
    meaning: "Rows with one patient number differ in name or date of birth.",
    cure: "Correct the number of the row that is another's.",
  },
  "place-too-wide": {
    meaning: "A column is mapped to a whole part of the visit, not to one value.",
    cure: "Name the value, such as patient.born.",
  },
  "place-twice": {
    meaning: "Two columns fill one place of the visit.",
    cure: "Map one of them only.",
  },
  "row-too-long": {
    meaning: "A row has more cells than the table has columns.",
    cure: "Look for a separator inside a value; put such a value in quotes.",
  },
  "unknown-place": {
    meaning: "The mapping names a place that the visit format does not have.",
    cure: "Use a key of the visit format; whorl schema lists them.",
  },
  "visit-twice": {
    meaning: "Two rows make visits of one number.",
    cure: "Give each visit its own number.",
  },
  "rows-disagree": {
    meaning: "Rows of one visit give two values for one place.",
    cure: "Correct one of the rows.",
  },
  "unknown-encoding": {
    meaning: "The mapping names an encoding that is not known.",
    cure: "Use a name such as utf-8 or windows-1252, or leave it out.",
  },
  "encoding-guessed": {
    meaning: "The table does not say how its letters are written; the likeliest way was taken.",
    cure: "Name the encoding under read: of the mapping if letters look wrong.",
  },
  "row-without-site": {
    meaning: "A row records findings and names no place on the scalp.",
    cure: "Fill the column of the place.",
  },
  "columns-unused": {
    meaning: "The mapping uses no column of that name.",
    cure: "Add it to the mapping if it should be read.",
  },
  "decimal-unclear": {
    meaning: "A number may be read with a decimal comma or a decimal point.",
    cure: "Say which under read: of the mapping.",
  },
  "dates-unclear": {
    meaning: "A date may have the day or the month first, and no other date decides.",
    cure: "Say which under read: of the mapping.",
  },
  "record-unreadable": {
    meaning: "A line of an audit table cannot be read.",
    cure: "Export the table again.",
  },
} as const satisfies Record<string, ProblemKind>;

/** All of them, by id. */
export const PROBLEMS = {
  ...SENDING_PROBLEMS,
  ...TABLE_PROBLEMS,
  ...FILE_PROBLEMS,
  ...CONTRADICTION_PROBLEMS,
  ...MARKS_PROBLEMS,
  ...SEAL_PROBLEMS,
  ...SAME_PATIENT_PROBLEMS,
  ...LETTER_PROBLEMS,
  ...PAGE_PROBLEMS,
  ...FOLDER_PROBLEMS,
  ...IDENTITY_PROBLEMS,
  ...REGISTER_PROBLEMS,
  ...EDITION_PROBLEMS,
  ...BATCH_PROBLEMS,
  ...KNOWLEDGE_PROBLEMS,
  ...AGREEMENT_PROBLEMS,
  ...SAFETY_PROBLEMS,
  ...PICTURE_PROBLEMS,
  ...PLAUSIBLE_PROBLEMS,
  ...CHANGE_PROBLEMS,
} as const satisfies Record<string, ProblemKind>;

/** Id of a problem; stable, since `accept:` and `--json` name it. */
export type ProblemId = keyof typeof PROBLEMS;
