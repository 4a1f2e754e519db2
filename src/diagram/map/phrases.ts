/** Every word the map prints or says, as data, so that another language is another object of this shape. */
import type { Region } from "../../visit/visit.js";
import type { View } from "../head/head-view.js";

/** The four areas in which hair loss is estimated. */
export type Area = "top" | "left" | "right" | "back";

/** Marks in braces are filled in: `{number}`, `{region}` and so on, as in the English words. */
export interface MapWords {
  readonly regions: Readonly<Record<Region, string>>;
  readonly views: Readonly<Record<View, string>>;
  readonly areas: Readonly<Record<Area, string>>;
  /** The patient's sides, printed beside the head. */
  readonly left: string;
  readonly right: string;
  readonly lost: string;
  readonly notEstimated: string;
  /** The areas without loss, where others have some. */
  readonly elsewhere: string;
  readonly legendTitle: string;
  readonly patchKey: string;
  readonly keyPatch: string;
  /** How an edge is described; an empty word leaves it out. */
  readonly margins: { readonly sharp: string; readonly blurred: string };
  readonly scaleBar: string;
  readonly scaleNote: string;
  readonly childNote: string;
  /** Patches that run beyond the scalp drawn; `{numbers}` of their sites. */
  readonly cutNote: string;
  readonly places: Readonly<
    Record<"upper" | "lower" | "front" | "back" | "left" | "right" | "centre", string>
  >;
  readonly alt: {
    readonly opening: string;
    readonly openingOne: string;
    readonly openingNone: string;
    readonly site: string;
    readonly place: string;
    readonly patch: string;
    readonly margin: string;
    readonly and: string;
    readonly extent: string;
    readonly closing: string;
  };
}

/** The words of the letter to a colleague. */
export const ENGLISH_MAP_WORDS: MapWords = {
  regions: {
    "frontal hairline": "Frontal hairline",
    frontal: "Frontal",
    "mid-scalp": "Mid-scalp",
    vertex: "Vertex",
    "left temporal": "Left temporal",
    "right temporal": "Right temporal",
    "left parietal": "Left parietal",
    "right parietal": "Right parietal",
    occipital: "Occipital",
    nape: "Nape",
    "left eyebrow": "Left eyebrow",
    "right eyebrow": "Right eyebrow",
    "whole scalp": "Whole scalp",
  },
  views: {
    front: "From the front",
    left: "Left side",
    above: "From above",
    right: "Right side",
    behind: "From behind",
  },
  areas: { top: "Top", left: "Left side", right: "Right side", back: "Back" },
  left: "Left",
  right: "Right",
  lost: "{area}: {percent}\u00a0%",
  notEstimated: "{area}: not estimated",
  elsewhere: "Elsewhere",
  legendTitle: "Hair lost, by area",
  patchKey: "Patch",
  keyPatch: "{region}, patch {length}\u00a0×\u00a0{width}\u00a0mm",
  margins: { sharp: "sharp edge", blurred: "blurred edge" },
  scaleBar: "{mm}\u00a0mm",
  scaleNote: "Drawn to scale, long side across.",
  childNote: "Drawn to scale for this age, long side across.",
  cutNote: "Cut at the edge of the scalp drawn: patch {numbers}.",
  places: {
    upper: "upper part",
    lower: "lower part",
    front: "towards the front",
    back: "towards the back",
    left: "towards the patient's left",
    right: "towards the patient's right",
    centre: "in the middle",
  },
  alt: {
    opening: "Map of the scalp with {count} numbered sites.",
    openingOne: "Map of the scalp with one numbered site.",
    openingNone: "Map of the scalp with no numbered site.",
    site: "Site {number}: {details}.",
    place: "{region}, {place}",
    patch: "a patch of {length} by {width} millimetres",
    margin: "with a {margin}",
    and: " and ",
    extent: "{title}: {areas}.",
    closing: "Patches are drawn to scale on an average adult head.",
  },
};

/** The words of the handout: everyday names for places. */
export const ENGLISH_PLAIN_MAP_WORDS: MapWords = {
  ...ENGLISH_MAP_WORDS,
  regions: {
    "frontal hairline": "Front hairline",
    frontal: "Front of the scalp",
    "mid-scalp": "Top of the head",
    vertex: "Crown",
    "left temporal": "Left temple",
    "right temporal": "Right temple",
    "left parietal": "Left side of the head",
    "right parietal": "Right side of the head",
    occipital: "Back of the head",
    nape: "Nape of the neck",
    "left eyebrow": "Left eyebrow",
    "right eyebrow": "Right eyebrow",
    "whole scalp": "Whole scalp",
  },
  views: {
    front: "From the front",
    left: "Your left side",
    above: "From above",
    right: "Your right side",
    behind: "From behind",
  },
  areas: { top: "Top", left: "Left side", right: "Right side", back: "Back" },
  legendTitle: "How much hair is missing",
  margins: { sharp: "", blurred: "" },
  keyPatch: "{region}: patch {length}\u00a0×\u00a0{width}\u00a0mm",
  scaleNote: "Patches are drawn to scale on an adult head.",
  childNote: "Patches are drawn to scale on a head of this age.",
  cutNote: "Drawn only as far as the head shows: patch {numbers}.",
  alt: {
    ...ENGLISH_MAP_WORDS.alt,
    opening: "Drawing of the head with {count} numbered places we looked at.",
    openingOne: "Drawing of the head with one numbered place we looked at.",
    openingNone: "Drawing of the head.",
    site: "Place {number}: {details}.",
    closing: "Patches are drawn to scale on an adult head.",
  },
};
