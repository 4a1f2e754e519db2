/** Gives each finding its small drawing. */
import { element } from "../svg.js";
import { BROKEN } from "./broken.js";
import { GENERIC, type SignGroup } from "./generic.js";
import { GROWTH } from "./growth.js";
import { INFECTED } from "./infected.js";
import { INKS, type Mark, type Sign, TONES, type Tone } from "./ink.js";
import { OPENINGS } from "./openings.js";
import { SELDOM } from "./seldom.js";
import { SHAFTS } from "./shafts.js";
import { SKIN } from "./skin.js";
import { SKIN_AREAS } from "./skin-areas.js";
import { VESSELS } from "./vessels.js";

const SIGNS: Readonly<Record<string, Sign>> = {
  ...BROKEN,
  ...GROWTH,
  ...INFECTED,
  ...OPENINGS,
  ...SKIN,
  ...SKIN_AREAS,
  ...VESSELS,
  ...SHAFTS,
  ...SELDOM,
};

function ink([name, d, width]: Mark, tone: Tone): string {
  const look: (typeof INKS)[typeof name] = { ...INKS, ...TONES[tone].inks }[name];
  return element("path", {
    d,
    ...look,
    ...(width === undefined ? {} : { "stroke-width": width }),
    ...("stroke" in look ? { "stroke-linecap": "round", "stroke-linejoin": "round" } : {}),
  });
}

/** What is inside a sign's drawing, which does not depend on who reads it. */
const bodies: Readonly<Record<Tone, WeakMap<Sign, string>>> = {
  light: new WeakMap(),
  medium: new WeakMap(),
  dark: new WeakMap(),
};

function bodyOf(sign: Sign, tone: Tone): string {
  const known = bodies[tone].get(sign);
  if (known !== undefined) return known;
  const skin = { cx: 24, cy: 24, r: 22.5 };
  const body =
    element("circle", { ...skin, fill: TONES[tone].grounds[sign.ground ?? "pale"] }) +
    sign
      .marks()
      .map((mark) => ink(mark, tone))
      .join("") +
    element("circle", { ...skin, fill: "none", stroke: "#4a423c", "stroke-width": 1 });
  bodies[tone].set(sign, body);
  return body;
}

/** Ids that have a drawing of their own, in order. */
export const PICTOGRAM_IDS: readonly string[] = Object.keys(SIGNS);

/**
 * The drawing of a finding as a whole SVG of 48 by 48 points. One without a drawing of its own gets that of its
 * `group`; undefined when the group is not told. With `alt` it is announced by that text; without, it is decoration.
 * `tone` is that of the patient's skin.
 */
export function pictogram(
  findingId: string,
  alt?: string,
  group?: SignGroup,
  tone: Tone = "light",
): string | undefined {
  const own = Object.hasOwn(SIGNS, findingId) ? SIGNS[findingId] : undefined;
  const sign = own ?? (group === undefined ? undefined : GENERIC[group]);
  if (sign === undefined) return undefined;
  const spoken = alt === undefined ? { "aria-hidden": "true" } : { role: "img", "aria-label": alt };
  return element(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", width: 48, height: 48, viewBox: "0 0 48 48", ...spoken },
    bodyOf(sign, tone),
  );
}
