/** The meaning of a problem id, from the tables of every room: fixed sentences that quote nothing. */
import { AGREEMENT_PROBLEMS } from "../interpret/interpret.js";
import { LETTER_PROBLEMS } from "../letter/notes.js";
import { CHANGE_PROBLEMS } from "../measure/change/compare.js";
import { PLAUSIBLE_PROBLEMS } from "../measure/plausible.js";
import { PAGE_PROBLEMS } from "../page/problems.js";
import { MARKS_PROBLEMS } from "../picture/problems.js";
import { EDITION_PROBLEMS } from "../register/editions.js";
import { problemTable } from "../visit/problems.js";
import { SEAL_PROBLEMS } from "../visit/seal.js";
import { PICTURE_PROBLEMS } from "./pictures.js";
import { BATCH_PROBLEMS } from "./problems.js";
import { SENDING_PROBLEMS } from "./sending.js";

const TABLES: readonly Readonly<Record<string, { readonly meaning: string }>>[] = [
  BATCH_PROBLEMS,
  SENDING_PROBLEMS,
  PICTURE_PROBLEMS,
  MARKS_PROBLEMS,
  problemTable,
  LETTER_PROBLEMS,
  PAGE_PROBLEMS,
  AGREEMENT_PROBLEMS,
  CHANGE_PROBLEMS,
  PLAUSIBLE_PROBLEMS,
  SEAL_PROBLEMS,
  EDITION_PROBLEMS,
];

export function meaningOf(id: string): string | undefined {
  return TABLES.find((table) => Object.hasOwn(table, id))?.[id]?.meaning;
}
