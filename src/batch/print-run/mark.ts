/** What tells a print run from a letter without reading either. */

import { PRINT_ORDERS, type PrintOrder } from "./order.js";

/** Stands in the first lines of a print run. */
export const PRINT_RUN_MARK = "%whorl-print-run";

/** How a print run was made, so that it can be made again and compared. */
export interface PrintRunHow {
  readonly order: PrintOrder;
  readonly duplex: boolean;
  readonly separators: boolean;
  /** ISO date for the index. */
  readonly date: string;
  /** Moment of its making: what was sent by then is left out. Absent where everything was asked for. */
  readonly since?: string;
}

export function writeMark({ order, duplex, separators, date, since }: PrintRunHow): string {
  return `${PRINT_RUN_MARK} ${JSON.stringify({ order, duplex, separators, date, since })}`;
}

/** What the first bytes of a file say of how it was made; undefined for anything but a print run. */
export function readMark(head: string): PrintRunHow | undefined {
  const line = new RegExp(`^${PRINT_RUN_MARK} (\\{.*\\})$`, "mu").exec(head)?.[1];
  try {
    const value: unknown = line === undefined ? undefined : JSON.parse(line);
    if (typeof value !== "object" || value === null) return undefined;
    const { order, duplex, separators, date, since } = value as Partial<PrintRunHow>;
    const known = PRINT_ORDERS.find((one) => one === order);
    if (!known || typeof date !== "string" || !/^\d{4}-\d\d-\d\d$/u.test(date)) return undefined;
    const moment = typeof since === "string" ? { since } : {};
    return { order: known, duplex: duplex === true, separators: separators === true, date, ...moment };
  } catch {
    return undefined;
  }
}
