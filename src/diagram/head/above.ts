/** The head from above, face at the top of the page, so that the patient's left is on the page's left. */
import { type Point, part, reversed, smooth } from "../curve.js";
import { bothSides, middle, pair, twice } from "./halves.js";
import type { HeadView } from "./head-view.js";

// y runs from the brow to the back of the head, x outwards to the patient's left (negative).
const SKULL: readonly Point[] = [
  [0, 2],
  [-18, 3.5],
  [-34, 9.5],
  [-47, 20],
  [-55, 34], // 4: temple hair begins
  [-61, 52],
  [-67, 70],
  [-71.5, 88], // 7: ear line
  [-74.5, 106],
  [-75.5, 123],
  [-73.5, 141],
  [-67, 160], // 11: back of the parietal
  [-55, 176],
  [-38, 187.5],
  [-19, 193],
  [0, 194.5],
];
const skull = bothSides(SKULL);
const strip = bothSides([
  [0, 31],
  [-17, 33],
  [-34, 41.5],
  [-47.5, 55],
]);
const SAGITTAL = smooth([
  [-46, 45],
  [-47.5, 55],
  [-48.5, 70],
  [-49, 88],
  [-49, 106],
  [-48.5, 123],
  [-46, 143],
  [-42, 158],
  [-36, 171],
]);
const coronalFront = bothSides([
  [0, 88],
  [-25, 87.5],
  [-49, 88],
]);
const coronalBack = bothSides([
  [0, 124.5],
  [-25, 124],
  [-48.5, 123],
]);
const vertexEdge = bothSides([
  [0, 188],
  [-15, 186],
  [-27, 179.5],
  [-36, 171],
]);
const EAR_LINE = smooth([
  [-49, 88],
  [-60, 87],
  [-71.5, 88],
]);
const BACK_EDGE = smooth([
  [-36, 171],
  [-51, 164],
  [-67, 160],
]);
// The hairline dips at the recess, so its middle and its temple run as two smooth pieces.
const FRONT_HAIR = bothSides([
  [0, 20.5],
  [-16, 22],
  [-32, 30],
  [-46, 45],
]);
const TEMPLE_HAIR = smooth([
  [-46, 45],
  [-50.5, 41],
  [-55, 34],
]);

/** From above. */
export const aboveView: HeadView = {
  view: "above",
  frame: [-94, -20, 188, 220],
  outline: [skull.whole],
  over: [],
  features: [
    ...twice([
      smooth([
        [-74.6, 104],
        [-81, 104.5],
        [-87, 111],
        [-88, 120],
        [-82.5, 122],
        [-75.6, 117],
      ]),
    ]),
    smooth([
      [-15, 3.2],
      [-10.5, -2],
      [-8.5, -9],
      [-5, -14],
      [0, -15.5],
      [5, -14],
      [8.5, -9],
      [10.5, -2],
      [15, 3.2],
    ]),
  ],
  whorl: [
    smooth([
      [1.5, 150],
      [3, 147],
      [0, 144.5],
      [-4.5, 146.5],
      [-5.5, 152],
      [-1, 156.5],
      [6, 155.5],
      [10, 149],
      [8.5, 141],
      [1, 136.5],
    ]),
  ],
  hairline: [FRONT_HAIR.whole, ...twice([TEMPLE_HAIR])],
  regions: [
    middle("frontal hairline", "columns", [
      ...FRONT_HAIR.half,
      ...part(SAGITTAL, 0, 1),
      ...reversed(strip.half),
    ]),
    middle("frontal", "rows", [...strip.half, ...part(SAGITTAL, 1, 3), ...reversed(coronalFront.half)]),
    middle("mid-scalp", "rows", [
      ...coronalFront.half,
      ...part(SAGITTAL, 3, 5),
      ...reversed(coronalBack.half),
    ]),
    middle("vertex", "rows", [...coronalBack.half, ...part(SAGITTAL, 5, 8), ...reversed(vertexEdge.half)]),
    ...pair("left temporal", "right temporal", [
      ...part(skull.half, 4, 7),
      ...reversed(EAR_LINE),
      ...part(SAGITTAL, 3, 0),
      ...TEMPLE_HAIR,
    ]),
    ...pair("left parietal", "right parietal", [
      ...part(skull.half, 7, 11),
      ...reversed(BACK_EDGE),
      ...part(SAGITTAL, 8, 3),
      ...EAR_LINE,
    ]),
    middle("occipital", "columns", [...vertexEdge.half, ...BACK_EDGE, ...part(skull.half, 11, 15)]),
  ],
};
