/**
 * Draws the stand-in for a dermoscopy photo used by the first example, with its marks beside it: no photograph of a person is in
 * this repository. What is drawn is what the visit counts: 84 hairs in 50 units, 3 yellow dots.
 */
import { createHash } from "node:crypto";
import { writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import jpeg from "jpeg-js";

const SIZE = 720;
let seed = 40417;
const random = () => {
  seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
  return seed / 4294967296;
};
const data = Buffer.alloc(SIZE * SIZE * 4);
const put = (x, y, [r, g, b], strength) => {
  const u = Math.round(x);
  const v = Math.round(y);
  if (u < 0 || v < 0 || u >= SIZE || v >= SIZE) return;
  const at = (v * SIZE + u) * 4;
  for (const [c, value] of [r, g, b].entries())
    data[at + c] = data[at + c] * (1 - strength) + value * strength;
};
const disc = (x, y, radius, colour, strength) => {
  for (let v = -radius; v <= radius; v++) {
    for (let u = -radius; u <= radius; u++) {
      const d = Math.hypot(u, v);
      if (d <= radius) put(x + u, y + v, colour, strength * Math.min(1, radius - d));
    }
  }
};
for (let y = 0; y < SIZE; y++) {
  for (let x = 0; x < SIZE; x++) {
    const far = Math.hypot(x - SIZE / 2, y - SIZE / 2) / (SIZE / 2);
    const shade = (random() - 0.5) * 8 + 6 * Math.sin(x / 37) * Math.cos(y / 29);
    const light = far > 1 ? 0 : 1 - 0.25 * far ** 3;
    const at = (y * SIZE + x) * 4;
    data[at] = (226 + shade) * light;
    data[at + 1] = (188 + shade) * light;
    data[at + 2] = (166 + shade) * light;
    data[at + 3] = 255;
  }
}
const hair = (x, y, angle, length, from, to, colour) => {
  const bend = (random() - 0.5) * 0.004;
  let a = angle;
  for (let t = 0; t < length; t++) {
    disc(x, y, from + ((to - from) * t) / length, colour, 0.9);
    a += bend;
    x += Math.cos(a);
    y += Math.sin(a);
  }
};
const MIDDLE = SIZE / 2;
const FIELD_MM = 11;
/** The bald patch lies to the upper right. */
const inPatch = ([x, y]) => Math.hypot(x - SIZE * 0.72, y - SIZE * 0.3) < SIZE * 0.3;
const placed = [];
/** A place in the field, in or out of the patch, with room round it. */
const place = (patch, room) => {
  for (let tries = 0; ; tries++) {
    const at = [random() * SIZE, random() * SIZE];
    const far = Math.hypot(at[0] - MIDDLE, at[1] - MIDDLE);
    const clear = placed.every(([x, y]) => Math.hypot(x - at[0], y - at[1]) > room * 0.99 ** (tries / 50));
    if (far < SIZE * 0.45 && inPatch(at) === patch && clear) {
      placed.push(at);
      return at.map((value) => Math.round(value));
    }
  }
};
const hairs = [];
const dots = [];
const arrows = [];
let unit = 0;
const DARK = [40, 28, 25];

for (let i = 0; i < 3; i++) {
  const at = place(true, 60);
  disc(...at, 9, [222, 178, 92], 0.8);
  dots.push({ at, finding: "yellow dots" });
  if (i === 0) arrows.push({ at, finding: "yellow dots" });
}
for (let i = 0; i < 7; i++) {
  const at = place(true, 45);
  disc(...at, 5, [34, 26, 24], 0.95);
  if (i === 0) arrows.push({ at, finding: "black dots" });
}
// Exclamation mark hairs: thin where they leave the skin, broad at the broken end.
for (let i = 0; i < 5; i++) {
  const at = place(true, 50);
  hair(...at, -1.2 + random() * 0.7, 55 + random() * 25, 1.1, 3.4, [46, 32, 28]);
  hairs.push({ at, class: "thin", unit: ++unit });
  if (i < 2) arrows.push({ at: [at[0] + 4, at[1] - 8], finding: "exclamation mark hairs" });
}
for (let i = 0; i < 4; i++) {
  const at = place(true, 40);
  hair(...at, random() * 6, 34 + random() * 10, 0.8, 0.8, [120, 92, 74]);
  hairs.push({ at, class: "vellus", unit: ++unit });
}
for (const size of [...Array(12).fill(1), ...Array(24).fill(2), ...Array(5).fill(3)]) {
  const [x, y] = place(false, 42);
  unit++;
  for (let i = 0; i < size; i++) {
    const at = [x + 7 * (i - (size - 1) / 2), y + (i % 2 ? 3 : -3) * (size > 1 ? 1 : 0)].map(Math.round);
    hair(...at, 0.3 + 0.16 * i + random() * 0.25, 70 + random() * 45, 2.6, 2.2, DARK);
    hairs.push({ at, class: "terminal", unit });
  }
}
for (let y = 0; y < SIZE; y++) {
  for (let x = 0; x < SIZE; x++) {
    if (Math.hypot(x - MIDDLE, y - MIDDLE) > MIDDLE) put(x, y, [12, 12, 12], 1);
  }
}
const photos = join(dirname(fileURLToPath(import.meta.url)), "patients", "TS-40417", "photos");
const bytes = jpeg.encode({ width: SIZE, height: SIZE, data }, 82).data;
writeFileSync(join(photos, "left-1.jpg"), bytes);

const point = ([x, y]) => `[${x}, ${y}]`;
const lines = [
  "format: 1",
  "photo:",
  '  file: "left-1.jpg"',
  `  sha256: "${createHash("sha256").update(bytes).digest("hex")}"`,
  `  width_px: ${SIZE}`,
  `  height_px: ${SIZE}`,
  "scale:",
  `  field: { centre: ${point([MIDDLE, MIDDLE])}, diameter_px: ${SIZE}, diameter_mm: ${FIELD_MM} }`,
  "area:",
  `  circle: { centre: ${point([MIDDLE, MIDDLE])}, radius_px: ${MIDDLE} }`,
  "counted: [hairs, yellow dots]",
  "hairs:",
  ...hairs.map((h) => `  - { at: ${point(h.at)}, class: ${h.class}, unit: ${h.unit} }`),
  "dots:",
  ...dots.map((d) => `  - { at: ${point(d.at)}, finding: ${d.finding} }`),
  "arrows:",
  ...arrows.reverse().map((a) => `  - { at: ${point(a.at)}, finding: ${a.finding} }`),
];
writeFileSync(join(photos, "left-1.marks.yaml"), `${lines.join("\n")}\n`);
