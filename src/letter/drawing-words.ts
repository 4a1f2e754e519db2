/** The shape of a pack's words for drawings, so that a missing one is named when the pack is read. */
import { z } from "zod";
import type { ChartWords, MapWords } from "../diagram/diagram.js";

const phrase = z.string().min(1);
/** An empty word leaves its part out. */
const maybe = z.string();

export const mapWordsSchema = (): z.ZodType<MapWords> =>
  z.strictObject({
    regions: z.strictObject({
      "frontal hairline": phrase,
      frontal: phrase,
      "mid-scalp": phrase,
      vertex: phrase,
      "left temporal": phrase,
      "right temporal": phrase,
      "left parietal": phrase,
      "right parietal": phrase,
      occipital: phrase,
      nape: phrase,
      "left eyebrow": phrase,
      "right eyebrow": phrase,
      "whole scalp": phrase,
    }),
    views: z.strictObject({ front: phrase, left: phrase, above: phrase, right: phrase, behind: phrase }),
    areas: z.strictObject({ top: phrase, left: phrase, right: phrase, back: phrase }),
    left: phrase,
    right: phrase,
    lost: phrase,
    notEstimated: phrase,
    elsewhere: phrase,
    legendTitle: phrase,
    patchKey: phrase,
    keyPatch: phrase,
    margins: z.strictObject({ sharp: maybe, blurred: maybe }),
    scaleBar: phrase,
    scaleNote: phrase,
    childNote: phrase,
    cutNote: phrase,
    places: z.strictObject({
      upper: phrase,
      lower: phrase,
      front: phrase,
      back: phrase,
      left: phrase,
      right: phrase,
      centre: phrase,
    }),
    alt: z.strictObject({
      opening: phrase,
      openingOne: phrase,
      openingNone: phrase,
      site: phrase,
      place: phrase,
      patch: phrase,
      margin: phrase,
      and: phrase,
      extent: phrase,
      closing: phrase,
    }),
  });

export const chartWordsSchema = (): z.ZodType<ChartWords> =>
  z.strictObject({
    normal: phrase,
    value: phrase,
    interval: phrase,
    none: phrase,
    trend: phrase,
    trendOne: phrase,
    normalBetween: phrase,
    normalFrom: phrase,
    normalTo: phrase,
    threshold: phrase,
    compared: phrase,
  });
