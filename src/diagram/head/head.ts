/** All views of the head, and which one shows a region best. */
import type { Region } from "../../visit/visit.js";
import { aboveView } from "./above.js";
import { behindView } from "./behind.js";
import { frontView } from "./front.js";
import type { HeadView, View } from "./head-view.js";
import { leftView, rightView } from "./side.js";

export const HEAD: Readonly<Record<View, HeadView>> = {
  front: frontView,
  left: leftView,
  above: aboveView,
  right: rightView,
  behind: behindView,
};

/** The view each region is pinned in. */
export const HOME: Readonly<Record<Region, View>> = {
  "frontal hairline": "front",
  frontal: "above",
  "mid-scalp": "above",
  vertex: "above",
  "left temporal": "left",
  "right temporal": "right",
  "left parietal": "left",
  "right parietal": "right",
  occipital: "behind",
  nape: "behind",
  "left eyebrow": "front",
  "right eyebrow": "front",
  "whole scalp": "above",
};
