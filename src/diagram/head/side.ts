/**
 * The head from its left and right. Measures follow an average adult head (length about 195 mm, height to the chin
 * about 225 mm): from memory, good enough to draw by.
 */
import { type Curve, mapCurve, mirrored, type Point, part, reversed, smooth } from "../curve.js";
import type { HeadView, RegionShape } from "./head-view.js";

// x runs from the brow to the back of the head, y from the crown down.
const SKULL: readonly Point[] = [
  [2, 96],
  [2.5, 84],
  [5, 71],
  [11.5, 55],
  [20, 42], // 4: where the hair begins
  [30, 31], // 5: back of the frontal strip
  [44, 20],
  [64, 8.5],
  [88, 2], // 8: frontal to mid-scalp
  [106, 0],
  [123, 1.5], // 10: mid-scalp to vertex
  [146, 9],
  [167, 24],
  [181, 44],
  [189.5, 66], // 14: vertex to occipital
  [193.5, 92],
  [191, 118],
  [184.5, 138],
  [177, 153], // 18: occipital to nape
  [169, 170],
  [165, 187],
  [165, 202], // 21: lowest hair
  [168, 220],
  [173, 238],
];
const skull = smooth(SKULL);

const FACE: Curve = [
  // The first span only lends its direction, so that brow and forehead meet without a corner.
  ...smooth([
    [2.5, 84],
    [2, 96],
    [3.6, 104],
    [5.6, 110.5],
    [3.4, 119],
    [-2, 132],
    [-8.4, 146],
    [-12.6, 154.5],
    [-12.8, 159.5],
    [-8.5, 163.6],
    [-1, 165.4],
    [5, 168],
  ]).slice(1),
  ...smooth([
    [5, 168],
    [4.6, 173.5],
    [1.2, 179],
    [1.4, 183.2],
    [7.5, 186],
  ]),
  ...smooth([
    [7.5, 186],
    [3.8, 189.6],
    [4.6, 195.4],
    [8.8, 200.4],
    [8.2, 207.5],
    [8.4, 215.5],
    [13.5, 223.4],
    [23, 226.6],
    [37, 224.4],
    [53, 219.6],
    [65, 219],
    [72.4, 226],
    [75, 238],
  ]),
];

const HAIR_FRONT = smooth([
  [20, 42],
  [32, 48.5],
  [45, 59], // 2: the recess at the temple
  [43.5, 72],
  [37, 86], // 4: point of the temple hair
  [45, 99],
  [60, 106],
  [73, 114],
  [78.5, 126],
  [80, 141],
]);
const HAIR_EAR = smooth([
  [80, 141],
  [87, 141],
  [92, 126], // 2: temporal to parietal
  [99, 112],
  [110, 110],
  [117, 122],
  [117, 142],
  [115, 158],
  [117.5, 167], // 8: parietal to nape
  [122.5, 180],
  [127, 195],
  [136, 205],
  [150, 206],
  [165, 202],
]);
const STRIP = smooth([
  [30, 31],
  [42.5, 36.5],
  [55, 44.5],
]);
const SAGITTAL = smooth([
  [45, 59],
  [55, 44.5], // 1: strip to frontal
  [69, 32],
  [87.5, 24.5], // 3
  [105, 22],
  [122, 23.5], // 5
  [146, 31.5],
  [161, 43],
  [172, 59], // 8
]);
const CORONAL_FRONT = smooth([
  [88, 2],
  [87, 13],
  [87.5, 24.5],
]);
const CORONAL_BACK = smooth([
  [123, 1.5],
  [123.5, 12],
  [122, 23.5],
]);
const EAR_LINE = smooth([
  [87.5, 24.5],
  [86, 58],
  [88, 92],
  [92, 126],
]);
const VERTEX_EDGE = smooth([
  [172, 59],
  [181, 64.5],
  [189.5, 66],
]);
const BACK_EDGE = smooth([
  [172, 59],
  [161, 86],
  [153, 116],
  [146, 140],
  [139.5, 161],
]);
const NAPE_EDGE = smooth([
  [177, 153],
  [159, 157.5],
  [139.5, 161], // 2
  [117.5, 167],
]);

const REGIONS: readonly RegionShape[] = [
  {
    region: "frontal hairline",
    read: "columns",
    outline: [...part(HAIR_FRONT, 0, 2), ...part(SAGITTAL, 0, 1), ...reversed(STRIP), ...part(skull, 5, 4)],
  },
  {
    region: "frontal",
    read: "columns",
    outline: [...STRIP, ...part(SAGITTAL, 1, 3), ...reversed(CORONAL_FRONT), ...part(skull, 8, 5)],
  },
  {
    region: "mid-scalp",
    read: "columns",
    outline: [...CORONAL_FRONT, ...part(SAGITTAL, 3, 5), ...reversed(CORONAL_BACK), ...part(skull, 10, 8)],
  },
  {
    region: "vertex",
    read: "columns",
    outline: [...CORONAL_BACK, ...part(SAGITTAL, 5, 8), ...VERTEX_EDGE, ...part(skull, 14, 10)],
  },
  {
    region: "left temporal",
    read: "rows",
    outline: [
      ...part(HAIR_FRONT, 2, 9),
      ...part(HAIR_EAR, 0, 2),
      ...reversed(EAR_LINE),
      ...part(SAGITTAL, 3, 0),
    ],
  },
  {
    region: "left parietal",
    read: "rows",
    outline: [
      ...EAR_LINE,
      ...part(HAIR_EAR, 2, 8),
      ...part(NAPE_EDGE, 3, 2),
      ...reversed(BACK_EDGE),
      ...part(SAGITTAL, 8, 3),
    ],
  },
  {
    region: "occipital",
    read: "rows",
    outline: [...BACK_EDGE, ...part(NAPE_EDGE, 2, 0), ...part(skull, 18, 14), ...reversed(VERTEX_EDGE)],
  },
  { region: "nape", read: "rows", outline: [...NAPE_EDGE, ...part(HAIR_EAR, 8, 13), ...part(skull, 21, 18)] },
];

const EAR = smooth(
  [
    [91, 133],
    [89.5, 122],
    [92, 111],
    [99.5, 103.5],
    [109, 102.5],
    [117, 108.5],
    [120, 120],
    [117, 133],
    [110, 143],
    [106, 153],
    [102, 164],
    [95.5, 168],
    [90.5, 163],
    [90.5, 152],
    [93, 143],
  ],
  true,
);
const FEATURES: readonly Curve[] = [
  smooth([
    [97, 117],
    [102, 110],
    [109.5, 110.5],
    [113, 119],
    [110, 130],
    [104, 138],
    [100.5, 147],
    [96, 151],
  ]),
  smooth([
    [92.5, 128],
    [97.5, 132.5],
    [96.5, 140],
    [93, 144],
  ]),
  smooth([
    [10.5, 118],
    [17, 121.5],
    [25, 121],
    [31, 117],
  ]),
  smooth([
    [6, 101],
    [13, 97.5],
    [24, 97],
    [36, 101],
  ]),
  smooth([
    [3, 163],
    [6.4, 158.4],
    [3.4, 152.6],
  ]),
  smooth([
    [7.5, 186],
    [13, 186.5],
    [18.5, 188.5],
  ]),
  smooth([
    [89.5, 172],
    [87, 186],
    [80, 198],
    [68, 208],
  ]),
];

const LEFT: HeadView = {
  view: "left",
  frame: [-20, -4, 220, 242],
  outline: [skull, FACE],
  over: [EAR],
  features: FEATURES,
  whorl: [],
  hairline: [HAIR_FRONT, HAIR_EAR],
  regions: REGIONS,
};

const flip = (curve: Curve): Curve => mapCurve(mirrored(curve), ([x, y]) => [x + 180, y]);

/** The patient's left side, face to the left of the page. */
export const leftView: HeadView = LEFT;

/** The patient's right side: the mirror image. */
export const rightView: HeadView = {
  view: "right",
  frame: [-20, -4, 220, 242],
  outline: LEFT.outline.map(flip),
  over: LEFT.over.map(flip),
  features: LEFT.features.map(flip),
  whorl: [],
  hairline: LEFT.hairline.map(flip),
  regions: LEFT.regions.map((shape) => ({
    ...shape,
    region:
      shape.region === "left temporal"
        ? "right temporal"
        : shape.region === "left parietal"
          ? "right parietal"
          : shape.region,
    outline: flip(shape.outline),
  })),
};
