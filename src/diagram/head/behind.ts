/** The head from behind: the patient's left is on the page's left. */
import { type Point, part, reversed, smooth } from "../curve.js";
import { bothSides, middle, pair, twice } from "./halves.js";
import type { HeadView } from "./head-view.js";

const SKULL: readonly Point[] = [
  [0, 0],
  [-17, 1.2],
  [-34, 6],
  [-49, 16], // 3: top of the parietal
  [-61, 31],
  [-69.5, 51],
  [-74, 75],
  [-75, 98],
  [-73, 122],
  [-69, 142],
  [-64.5, 157], // 10: hair margin behind the ear
  [-59, 171],
  [-55.5, 185], // 12: lowest hair at the side
  [-55, 202],
  [-57.5, 219],
  [-66, 233],
  [-76, 238],
];
const skull = bothSides(SKULL);
const SAGITTAL = smooth([
  [-49, 16],
  [-48, 32],
  [-44.5, 46],
  [-38, 59],
]);
const vertexEdge = bothSides([
  [0, 67.5],
  [-16, 66.8],
  [-28, 64],
  [-38, 59],
]);
const BACK_EDGE = smooth([
  [-38, 59],
  [-50, 84],
  [-57, 114],
  [-59, 140],
  [-57, 158],
]);
const NAPE_OUT = smooth([
  [-57, 158],
  [-60.5, 158.2],
  [-64.5, 157],
]);
const napeEdge = bothSides([
  [0, 151],
  [-20, 152],
  [-40, 155],
  [-57, 158],
]);
const hair = bothSides([
  [0, 203],
  [-12, 206],
  [-28, 206.5],
  [-42, 202.5],
  [-50, 194],
  [-55.5, 185],
]);

/** From behind. */
export const behindView: HeadView = {
  view: "behind",
  frame: [-94, -4, 188, 242],
  outline: [skull.whole],
  over: twice([
    smooth(
      [
        [-74.3, 107],
        [-78.9, 103.5],
        [-84.1, 106],
        [-86.9, 115],
        [-86.1, 127],
        [-82.9, 139],
        [-80.5, 152],
        [-77.3, 164],
        [-72, 167],
        [-68, 161],
        [-67.8, 148],
        [-71, 134],
        [-73.6, 119],
      ],
      true,
    ),
  ]),
  features: twice([
    smooth([
      [-81.7, 111],
      [-83.3, 119],
      [-80.5, 133],
      [-76.9, 147],
    ]),
    smooth([
      [-22, 226],
      [-20.5, 215],
      [-21, 209.5],
    ]),
  ]),
  whorl: [],
  hairline: [hair.whole],
  regions: [
    middle("vertex", "rows", [...part(skull.half, 0, 3), ...SAGITTAL, ...reversed(vertexEdge.half)]),
    ...pair("left parietal", "right parietal", [
      ...part(skull.half, 3, 10),
      ...reversed(NAPE_OUT),
      ...reversed(BACK_EDGE),
      ...reversed(SAGITTAL),
    ]),
    middle("occipital", "rows", [...vertexEdge.half, ...BACK_EDGE, ...reversed(napeEdge.half)]),
    middle("nape", "rows", [
      ...napeEdge.half,
      ...NAPE_OUT,
      ...part(skull.half, 10, 12),
      ...reversed(hair.half),
    ]),
  ],
};
