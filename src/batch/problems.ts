/** The ids of the batch room's own problems. */
import type { BATCH_PROBLEMS } from "../base/problem-table.js";

export type BatchProblemId = keyof typeof BATCH_PROBLEMS;
