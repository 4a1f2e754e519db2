import type { EventEmitter } from "node:events";

/** Tells of each task before the worker sees it. */
export const tasks: EventEmitter<{ task: [unknown] }>;
