/** What the file system says when it cannot write, with the place, which its own errors name only at times. */

export class NotWritten extends Error {
  constructor(
    /** File or folder that was to be written. */
    readonly file: string,
    /** As the system names it, such as ENOSPC. */
    readonly code: string,
  ) {
    super("could not be written");
  }
}

/** Does something that writes `file`; its error becomes NotWritten. */
export function writing<T>(file: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof NotWritten || codeOf(error) === "") throw error;
    throw new NotWritten(file, codeOf(error));
  }
}

/** Code of a file system error; empty for any other. */
export function codeOf(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : "";
}
