/** An open visit file as it stands between two edits, and what was last worked out from it. */
import type { Problem } from "../base/problem.js";
import type { Examined } from "../batch/examine.js";
import type { Pictures } from "../letter/pictures.js";
import type { Change } from "../measure/change/types.js";
import type { KnownEditions } from "../register/editions.js";
import type { Visit } from "../visit/visit.js";
import type { Offered } from "./likely.js";

export interface Session {
  /** As the page names it. */
  readonly file: string;
  readonly path: string;
  text: string;
  readonly undo: string[];
  readonly redo: string[];
  lastPlace: string;
  lastAt: number;
  /** The last state without errors and what was worked out from it. */
  weighed?: Weighed;
}

export interface Weighed {
  /** The visit without what the weighing does not look at. */
  readonly key: string;
  readonly examined: Examined;
  /** What was said beyond the reading of the file. */
  readonly later: readonly Problem[];
  /** Earlier visits of the patient, oldest first. */
  readonly earlier: readonly Visit[];
  readonly change?: Change;
  readonly pictures?: Pictures;
  readonly offered: Offered;
  /** What the register says of its letters so far. */
  readonly editions?: KnownEditions;
}
