/** Doubts about whose visit it is -> reasons that name visits by their numbers and quote nothing. */

import type { Doubt } from "../clinic-folder/doubt.js";
import { othersOf, severityOf } from "../clinic-folder/identity-problems.js";
import { type Reason, reason } from "./outcome.js";

export function whoseReasons(doubts: readonly Doubt[]): { errors: Reason[]; notices: Reason[] } {
  const of = (severity: string) =>
    doubts
      .filter((doubt) => severityOf(doubt) === severity)
      .map((doubt) => reason(doubt.id, doubt.others.length > 0 ? othersOf(doubt) : undefined));
  return { errors: of("error"), notices: of("warning") };
}
