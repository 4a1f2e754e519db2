/** What the form calls a key of the visit file, where its name alone would not do. */
import { withCapital } from "../../base/text.js";

export interface Label {
  readonly label: string;
  readonly hint?: string;
  /** What it means to leave a choice out. */
  readonly blank?: string;
  readonly placeholder?: string;
  readonly suggestions?: readonly string[];
  readonly rows?: number;
}

const LABELS: Readonly<Record<string, Label | string>> = {
  "visit.id": "Visit number",
  "visit.date": "Day of the visit",
  "visit.reason": { label: "Why the patient came", hint: "a sentence" },
  "patient.id": "Patient number",
  "patient.name.given": "Given name",
  "patient.name.family": "Family name",
  "patient.sex": { label: "Sex as recorded", blank: "—" },
  "patient.phototype": { label: "Phototype", blank: "—" },
  "patient.ancestry": { label: "Ancestry", hint: "in the patient's words" },
  "patient.pregnancy": { label: "Pregnancy", blank: "—" },
  "patient.language": { label: "Language of the handout", placeholder: "en-GB" },
  "patient.large_print": { label: "Handout in large print", blank: "no" },
  "patient.address": { label: "Address", rows: 3 },
  "send_to.name": { label: "Name", hint: "with title" },
  "send_to.role": { label: "Role", suggestions: ["general practitioner", "parent", "school nurse"] },
  "send_to.copy": "Only gets a copy",
  "send_to.purpose": { label: "Reads it for", blank: "as the role says" },
  "history.duration_weeks": { label: "Duration", hint: "weeks" },
  "history.onset": { label: "Onset", blank: "not asked" },
  "history.course": { label: "Course", blank: "not asked" },
  "history.shedding": { label: "Shedding", blank: "not asked" },
  "history.family": "Family history",
  "history.past": "Past history",
  "history.contacts": "Contacts affected",
  "history.notes": "Anything else",
  "history.medicines.name": "Medicine",
  "history.medicines.since_weeks": { label: "Taken for", hint: "weeks" },
  "history.medicines.stopped_weeks": { label: "Stopped", hint: "weeks ago" },
  "history.medicines.for": "What for",
  "examination.skin": "Skin elsewhere",
  "scope.magnification": { label: "Magnification", hint: "×" },
  "scope.field_diameter_mm": { label: "Field", hint: "mm across" },
  "scope.light": { label: "Light", blank: "—" },
  "scope.contact": { label: "Contact", blank: "—" },
  "pull_test.site": "Where",
  "pull_test.anagen": "Of these anagen",
  "sites.site": "Region",
  "sites.patch.length_mm": { label: "Patch length", hint: "mm" },
  "sites.patch.width_mm": { label: "Patch width", hint: "mm" },
  "sites.patch.margin": { label: "Margin", blank: "—" },
  "sites.fields.area_mm2": { label: "Area", hint: "mm²" },
  "sites.notes": "Notes of this place",
  "tests.name": "Test",
  "tests.result": { label: "Result in words", suggestions: ["awaited"] },
  "tests.date": "Taken",
  "tests.range.low": "Range from",
  "tests.range.high": "Range to",
  "impression.certainty": { label: "How sure", blank: "—" },
  "impression.note": "What it rests on, in words",
  "impression.in_handout": "Keep this name out of the handout",
  "plan.action": { label: "What is to be done", hint: "a sentence", rows: 1 },
  "plan.when": { label: "By when", hint: "in words" },
  "plan.by": "On or before",
  "plan.urgency": { label: "How soon", blank: "—" },
  "plan.declined": "Offered, and the patient declined",
  "follow_up.weeks": { label: "Next visit in", hint: "weeks" },
  told: "What the patient was told",
};

/** A key without a name of its own is called by its words. */
export function labelOf(path: string): Label {
  const known = LABELS[path];
  if (typeof known === "string") return { label: known };
  if (known) return known;
  const words = (path.split(".").at(-1) ?? path).replaceAll("_", " ");
  return { label: withCapital(words) };
}
