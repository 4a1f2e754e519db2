/** A request the desk does not serve, with the HTTP status and a sentence for the page that holds nothing of a file. */
import type { Problem } from "../base/problem.js";

export class HttpError extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly problems: readonly Problem[] = [],
    /** True when a reason would let it stand. */
    readonly needsReason = false,
  ) {
    super(message);
  }
}
