/** Every score that is worked out, in the order in which measures are printed. A test holds this list against the folder. */
import type { ScoreModule } from "./score-module.js";
import { activitySigns } from "./scores/activity-signs.js";
import { areataScale } from "./scores/areata-scale.js";
import { biopsyTerminalVellus } from "./scores/biopsy-terminal-vellus.js";
import { combTest } from "./scores/comb-test.js";
import { countedFindings } from "./scores/counted-findings.js";
import { diameterClasses } from "./scores/diameter-classes.js";
import { diameterDiversity } from "./scores/diameter-diversity.js";
import { discolouredOpenings } from "./scores/discoloured-openings.js";
import { extentFromPatches } from "./scores/extent-from-patches.js";
import { fagaTrichoscopyCriteria } from "./scores/faga-trichoscopy-criteria.js";
import { ffaCriteria } from "./scores/ffa-criteria.js";
import { fieldArea } from "./scores/field-area.js";
import { follicularUnits } from "./scores/follicular-units.js";
import { frontalOccipital } from "./scores/frontal-occipital.js";
import { hairDensity } from "./scores/hair-density.js";
import { hairPull } from "./scores/hair-pull.js";
import { hairPullTotal } from "./scores/hair-pull-total.js";
import { patchArea } from "./scores/patch-area.js";
import { pssi } from "./scores/pssi.js";
import { refinedWashTest } from "./scores/refined-wash-test.js";
import { saltScore } from "./scores/salt-score.js";
import { shaftDiameter } from "./scores/shaft-diameter.js";
import { symptoms } from "./scores/symptoms.js";
import { terminalVellus } from "./scores/terminal-vellus.js";
import { thinShare } from "./scores/thin-share.js";
import { tineaSingleSign } from "./scores/tinea-single-sign.js";
import { trichogram } from "./scores/trichogram.js";
import { vellusShare } from "./scores/vellus-share.js";
import { washTest } from "./scores/wash-test.js";
import { yellowDotsFourFields } from "./scores/yellow-dots-four-fields.js";

/** Every score and rule the house works out; recorded.ts makes the rest. */
export const SCORES: readonly ScoreModule<object>[] = [
  fieldArea,
  hairDensity,
  follicularUnits,
  thinShare,
  vellusShare,
  terminalVellus,
  discolouredOpenings,
  countedFindings,
  yellowDotsFourFields,
  shaftDiameter,
  diameterClasses,
  diameterDiversity,
  patchArea,
  frontalOccipital,
  saltScore,
  areataScale,
  extentFromPatches,
  hairPull,
  hairPullTotal,
  washTest,
  refinedWashTest,
  combTest,
  trichogram,
  biopsyTerminalVellus,
  activitySigns,
  pssi,
  symptoms,
  fagaTrichoscopyCriteria,
  tineaSingleSign,
  ffaCriteria,
];
