/** The face with its hairline and eyebrows: the patient's left is on the page's right. */
import { type Point, part, reversed, smooth } from "../curve.js";
import { bothSides, middle, pair, twice } from "./halves.js";
import type { HeadView } from "./head-view.js";

const SKULL: readonly Point[] = [
  [0, 0],
  [-17, 1.2],
  [-34, 6],
  [-49, 16], // 3: top of the temple
  [-61, 31],
  [-69.5, 51],
  [-73.5, 75],
  [-74, 98],
  [-72, 118],
  [-70.5, 138], // 9: end of the hair before the ear
  [-68, 158],
  [-63, 180],
  [-52, 200],
  [-36, 216],
  [-20, 224.5],
  [0, 227],
];
const skull = bothSides(SKULL);
const hair = bothSides([
  [0, 41.5],
  [-16, 42.5],
  [-32, 48],
  [-47, 59.5],
]);
const TEMPLE_HAIR = smooth([
  [-47, 59.5],
  [-53, 72],
  [-58, 86],
  [-64, 99],
  [-67, 116],
  [-70.5, 138],
]);
const strip = bothSides([
  [0, 29.5],
  [-17, 30.5],
  [-34, 35.5],
  [-48.5, 44.5],
]);
const SAGITTAL = smooth([
  [-47, 59.5],
  [-48.5, 44.5],
  [-49.5, 30],
  [-49, 16],
]);
const BROW = smooth(
  [
    [-12.5, 103.5],
    [-13, 98.5],
    [-24, 95],
    [-38, 93],
    [-48, 96.5],
    [-54, 102.5],
    [-46, 99.5],
    [-36, 97.5],
    [-24, 100],
  ],
  true,
);

/** From the front. */
export const frontView: HeadView = {
  view: "front",
  frame: [-94, -4, 188, 242],
  outline: [skull.whole],
  over: twice([
    smooth(
      [
        [-73.4, 107],
        [-78.1, 104],
        [-83.3, 107],
        [-85.7, 116],
        [-84.5, 129],
        [-81.3, 142],
        [-78.5, 155],
        [-74.9, 164.5],
        [-69.5, 166],
        [-68, 158],
        [-70, 142],
        [-71.8, 122],
      ],
      true,
    ),
  ]),
  features: [
    ...twice([
      smooth([
        [-46, 116.5],
        [-39, 121.5],
        [-29, 122.5],
        [-19, 118.5],
      ]),
      smooth([
        [-81.3, 113],
        [-82.1, 122],
        [-78.5, 137],
        [-75.3, 149],
      ]),
      smooth([
        [-42, 213.5],
        [-41, 226],
        [-44, 238],
      ]),
    ]),
    smooth([
      [-11.5, 155.5],
      [-14, 160.5],
      [-11.5, 165],
      [-6, 165],
      [0, 168],
      [6, 165],
      [11.5, 165],
      [14, 160.5],
      [11.5, 155.5],
    ]),
    smooth([
      [-24, 185],
      [-14, 186.6],
      [-5, 185.6],
      [0, 186.8],
      [5, 185.6],
      [14, 186.6],
      [24, 185],
    ]),
    smooth([
      [-9, 196.5],
      [0, 198],
      [9, 196.5],
    ]),
  ],
  whorl: [],
  hairline: [hair.whole, ...twice([TEMPLE_HAIR])],
  regions: [
    middle("frontal hairline", "columns", [...hair.half, ...part(SAGITTAL, 0, 1), ...reversed(strip.half)]),
    middle("frontal", "columns", [...strip.half, ...part(SAGITTAL, 1, 3), ...part(skull.half, 3, 0)]),
    ...pair("right temporal", "left temporal", [
      ...part(skull.half, 3, 9),
      ...reversed(TEMPLE_HAIR),
      ...SAGITTAL,
    ]),
    ...pair("right eyebrow", "left eyebrow", BROW),
  ],
};
