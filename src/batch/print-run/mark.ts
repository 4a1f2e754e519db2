/** What tells a print run from a letter without reading either. */

/** Stands in the first lines of a print run. */
export const PRINT_RUN_MARK = "%whorl-print-run";
