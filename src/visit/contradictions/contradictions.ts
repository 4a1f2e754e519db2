/** All checks of values that are well written and may not fit each other. */
import type { CheckContext } from "../check-context.js";
import { birth } from "./birth.js";
import { diameters } from "./diameters.js";
import { extentAsFraction } from "./extent-as-fraction.js";
import { fieldCounts } from "./field-counts.js";
import { findingCount } from "./finding-count.js";
import { findingTwice } from "./finding-twice.js";
import { followUp } from "./follow-up.js";
import { impression } from "./impression.js";
import { lookAlikeLetters } from "./look-alike-letters.js";
import { patchSize } from "./patch-size.js";
import { photos } from "./photos.js";
import { planTwice } from "./plan-twice.js";
import { pullTest } from "./pull-test.js";
import { recipients } from "./recipients.js";
import { scopeField } from "./scope-field.js";
import { signed } from "./signed.js";
import { siteEmpty } from "./site-empty.js";
import { siteTwice } from "./site-twice.js";
import { tests } from "./tests.js";
import { unitsAgainstHairs } from "./units-against-hairs.js";
import { visitDate } from "./visit-date.js";

const CHECKS: readonly ((look: CheckContext) => void)[] = [
  birth,
  lookAlikeLetters,
  visitDate,
  tests,
  recipients,
  signed,
  impression,
  planTwice,
  followUp,
  siteTwice,
  siteEmpty,
  findingTwice,
  findingCount,
  fieldCounts,
  unitsAgainstHairs,
  scopeField,
  diameters,
  patchSize,
  extentAsFraction,
  pullTest,
  photos,
];

/** Runs every check; each reports what it finds. A file without visit and patient is no visit yet, and is not checked. */
export function contradictions(look: CheckContext): void {
  if (!look.file.visit || !look.file.patient) return;
  for (const check of CHECKS) check(look);
}
