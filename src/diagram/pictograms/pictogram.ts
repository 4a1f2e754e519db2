/** Gives each finding its small drawing. */
import { element } from "../svg.js";
import { BROKEN } from "./broken.js";
import { GENERIC, type SignGroup } from "./generic.js";
import { GROWTH } from "./growth.js";
import { INFECTED } from "./infected.js";
import { GROUNDS, INKS, type Mark, type Sign } from "./ink.js";
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

function ink([name, d, width]: Mark): string {
  const look = INKS[name];
  return element("path", {
    d,
    ...look,
    ...(width === undefined ? {} : { "stroke-width": width }),
    ...("stroke" in look ? { "stroke-linecap": "round", "stroke-linejoin": "round" } : {}),
  });
}

/** What is inside a sign's drawing, which does not depend on who reads it. */
const bodies = new WeakMap<Sign, string>();

function bodyOf(sign: Sign): string {
  const known = bodies.get(sign);
  if (known !== undefined) return known;
  const skin = { cx: 24, cy: 24, r: 22.5 };
  const body =
    element("circle", { ...skin, fill: GROUNDS[sign.ground ?? "pale"] }) +
    sign.marks.map(ink).join("") +
    element("circle", { ...skin, fill: "none", stroke: "#4a423c", "stroke-width": 1 });
  bodies.set(sign, body);
  return body;
}

/** Ids that have a drawing of their own, in order. */
export const PICTOGRAM_IDS: readonly string[] = Object.keys(SIGNS);

/**
 * The drawing of a finding as a whole SVG of 48 by 48 points. One without a drawing of its own gets that of its
 * `group`; undefined when the group is not told. With `alt` it is announced by that text; without, it is decoration.
 */
export function pictogram(findingId: string, alt?: string, group?: SignGroup): string | undefined {
  const own = Object.hasOwn(SIGNS, findingId) ? SIGNS[findingId] : undefined;
  const sign = own ?? (group === undefined ? undefined : GENERIC[group]);
  if (sign === undefined) return undefined;
  const spoken = alt === undefined ? { "aria-hidden": "true" } : { role: "img", "aria-label": alt };
  return element(
    "svg",
    { xmlns: "http://www.w3.org/2000/svg", width: 48, height: 48, viewBox: "0 0 48 48", ...spoken },
    bodyOf(sign),
  );
}
