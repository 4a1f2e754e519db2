/** The ids of the problems that make it doubtful whose a visit is. */
import type { IDENTITY_PROBLEMS } from "../base/problem-table.js";

export type IdentityProblemId = keyof typeof IDENTITY_PROBLEMS;
