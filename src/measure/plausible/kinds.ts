/** Every kind of slip that only arithmetic can find, with what it means and how to cure it. */

import type { PLAUSIBLE_PROBLEMS } from "../../base/problem-table.js";

export type PlausibleId = keyof typeof PLAUSIBLE_PROBLEMS;
