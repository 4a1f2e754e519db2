/** The diagram room's front door. */
export type { SignGroup } from "./pictograms/generic.js";
export { PICTOGRAM_IDS, pictogram } from "./pictograms/pictogram.js";
export {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  type MapWords,
  type ScalpMap,
  type ScalpMapInput,
  scalpMap,
  type View,
} from "./scalp-map.js";
