/** Draws the stand-in for a dermoscopy photo used by the first example: no photograph of a person is in this repository. */
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
const inside = () => {
  for (;;) {
    const x = random() * SIZE;
    const y = random() * SIZE;
    if (Math.hypot(x - SIZE / 2, y - SIZE / 2) < SIZE * 0.44) return [x, y];
  }
};
for (let i = 0; i < 10; i++) disc(...inside(), 9, [222, 178, 92], 0.8);
for (let i = 0; i < 14; i++) disc(...inside(), 5, [34, 26, 24], 0.95);
for (let i = 0; i < 9; i++)
  hair(...inside(), -1.2 + random() * 0.7, 80 + random() * 40, 1.2, 4.2, [46, 32, 28]);
for (let i = 0; i < 34; i++) {
  const side = random() * SIZE * 0.4;
  hair(SIZE * 0.08 + side * 0.4, random() * SIZE, 0.2 + random() * 0.5, 260, 3.2, 2.6, [40, 28, 25]);
}
for (let y = 0; y < SIZE; y++) {
  for (let x = 0; x < SIZE; x++) {
    if (Math.hypot(x - SIZE / 2, y - SIZE / 2) > SIZE / 2) put(x, y, [12, 12, 12], 1);
  }
}
const out = join(dirname(fileURLToPath(import.meta.url)), "patients", "TS-40417", "photos", "left-1.jpg");
writeFileSync(out, jpeg.encode({ width: SIZE, height: SIZE, data }, 82).data);
