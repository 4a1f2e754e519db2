/** Keys of what the dermoscope showed, site by site, and of the pull test. */

import { z } from "zod";
import type { FindingId } from "../../base/ids.js";
import { type FindingLine, findingsMap } from "../findings-map.js";
import { always, type Key, leaving, left, line, list, map, needed, prose, shaped, value } from "../key.js";
import { count, number, pathInside, word, wordList } from "../leaves.js";
import type { FindingSeen, Seen } from "../terms.js";
import type { VisitWords } from "../visit-words.js";
import { plainWords } from "../vocabulary.js";
import { answers } from "./history.js";
import { BOTH, MEASURED, neither, ONE_FIELD, TRADE } from "./left-out.js";

const LIGHT = plainWords("a word for the light", ["polarised", "non-polarised"], {
  "non-polarised": ["unpolarised", "nonpolarised"],
});
const CONTACT = plainWords("a word for the contact", ["dry", "immersion", "contact"]);
const MARGIN = plainWords("a word for the margin", ["sharp", "blurred"]);

export const SCOPE_KEYS = leaving(TRADE, {
  magnification: value(number(1, 1000, { unit: "times" }), "Magnification, such as 20."),
  light: value(word(LIGHT), "Kind of light."),
  contact: value(word(CONTACT), "dry, immersion, or contact plate without fluid."),
  field_diameter_mm: value(
    number(0.1, 100, { unit: "mm" }),
    "Diameter of the field of view, in millimetres.",
  ),
});

export const pullTestKeys = (words: VisitWords) =>
  leaving(TRADE, {
    site: needed(value(word(words.regions), "Where hairs were pulled."), "the site of the pull test"),
    pulled: needed(
      value(number(1, 1000, { whole: true, unit: "hairs" }), "Hairs pulled."),
      "how many hairs were pulled",
    ),
    came_out: needed(value(count(1000, "hairs"), "Hairs that came out."), "how many hairs came out"),
    anagen: value(count(1000, "hairs"), "Of these, anagen hairs."),
  });

const perUnit = (hairs: number) =>
  value(count(2000), `Follicular units with ${hairs} ${hairs === 1 ? "hair" : "hairs"}.`);

const FIELD_KEYS = leaving(MEASURED, {
  hairs: value(count(5000), "All hairs in the field of view."),
  thin: value(count(5000), "Of these, hairs thinner than 0.03 mm."),
  vellus: value(count(5000), "Of these, vellus hairs."),
  units: units(),
  yellow_dots: left(ONE_FIELD, value(count(5000), "Yellow dots in the field of view.")),
  discoloured_openings: left(
    ONE_FIELD,
    value(count(5000), "Openings with a discoloured rim in the field of view."),
  ),
  area_mm2: left(
    neither("enters every density; the letter prints the densities"),
    value(
      number(0.05, 5000, { unit: "square millimetres" }),
      "Area counted, in square millimetres; left out, the whole field of view.",
    ),
  ),
});

const ON_MAP = neither("places the number on the scalp map of both documents");

const AT_KEYS = leaving(ON_MAP, {
  x: needed(
    value(number(0, 1), "From the left edge of the region (0) to its right edge (1), as drawn."),
    "x of the place",
  ),
  y: needed(
    value(number(0, 1), "From the top of the region (0) to its bottom (1), as drawn."),
    "y of the place",
  ),
});

const PATCH_KEYS = leaving(
  { handout: "the handout gives the size in everyday words" },
  {
    length_mm: needed(
      value(number(0.1, 500, { unit: "mm" }), "Longest measure, in millimetres."),
      "the length of the patch",
    ),
    width_mm: needed(
      value(number(0.1, 500, { unit: "mm" }), "Measure across, in millimetres."),
      "the width of the patch",
    ),
    margin: left(TRADE, value(word(MARGIN), "Margin of the patch.")),
  },
);

const PHOTO_KEYS = {
  file: left(
    neither("the letter prints the photo itself"),
    needed(value(pathInside(), "File name, relative to this file's folder."), "the file of the photograph"),
  ),
  field: left(
    neither("says which field the photo shows; the letter prints its caption"),
    value(number(1, 100, { whole: true }), "Number of the counted field it shows, from 1."),
  ),
  caption: left(
    { handout: "the handout has drawings in place of photos" },
    line("One line under the picture."),
  ),
};

export const siteKeys = (words: VisitWords) =>
  leaving(TRADE, {
    site: left(
      BOTH,
      needed(value(word(words.regions), "A named region of the scalp."), "the name of the site"),
    ),
    at: map(AT_KEYS, "Place inside the region, for the scalp map.", { oneLine: true }),
    patch: map(PATCH_KEYS, "A patch of hair loss.", { oneLine: true }),
    findings: left(
      { handout: "the handout shows those that were seen most, each with a drawing" },
      findings(words),
    ),
    none_of: noneOf(words),
    fields: list(FIELD_KEYS, "Counted fields of view; leave out what was not counted.", { oneLine: "each" }),
    diameters_um: left(neither("the letter prints their mean and spread"), diameters()),
    photos: list(PHOTO_KEYS, "Photographs of the site.", { oneLine: "each" }),
    signs: answers(words.signs, "Signs to the naked eye or to touch at this site: yes or no."),
    notes: prose("Anything else of this site."),
  });

const EXTENT = (where: string) =>
  value(number(0, 100, { unit: "percent" }), `Percent of hair lost ${where}.`);

export const EXTENT_KEYS = leaving(TRADE, {
  top: EXTENT("on top"),
  left: EXTENT("on the left side"),
  right: EXTENT("on the right side"),
  back: EXTENT("at the back"),
});

function findings(words: VisitWords): Key<ReturnType<typeof findingsMap>, readonly FindingSeen[], "given"> {
  return shaped(findingsMap(words.findings), {
    says: "What was seen, and how much: none, single, few, several, many, throughout, seen, or a count in a number of fields. What is left out was not assessed.",
    mode: "given",
    oneLine: "each",
    absent: () => [],
    toVisit: (read) => (read as readonly FindingLine[]).map(({ finding, seen }) => ({ finding, seen })),
    toFile: (written, terms) => {
      const seen = written as readonly FindingSeen[];
      if (seen.length === 0) return undefined;
      return Object.fromEntries(seen.map((line) => [terms.finding(line.finding), amount(line.seen)]));
    },
  });
}

function amount(seen: Seen): unknown {
  if (seen.state === "absent") return "none";
  return seen.count ? { count: seen.count.count, fields: seen.count.fields } : (seen.amount ?? "seen");
}

function noneOf(
  words: VisitWords,
): Key<ReturnType<typeof wordList<FindingId>>, readonly FindingSeen[], "merged"> {
  return shaped(wordList(words.findings), {
    says: "Findings looked for and not seen, in one list: the same as writing none after each.",
    mode: "merged",
    into: "findings",
    toVisit: (read) =>
      (read as readonly FindingId[]).map((finding) => ({ finding, seen: { state: "absent" } })),
    toFile: () => undefined,
  });
}

const diameter = () =>
  z
    .array(number(0, 1000, { unit: "micrometres" }))
    .max(2000)
    .nullish();

function diameters(): Key<ReturnType<typeof diameter>, readonly number[], "given"> {
  return shaped(diameter(), {
    says: "Measured shaft diameters, in micrometres.",
    mode: "given",
    oneLine: true,
    absent: () => [],
    toVisit: (read) => (read as readonly (number | null | undefined)[]).flatMap((width) => width ?? []),
    toFile: (written) => written,
  });
}

/** Follicular units by the number of hairs in each; the numbers stay the keys. */
function units() {
  const keys = Object.fromEntries(
    [1, 2, 3, 4, 5, 6, 7, 8, 9].map((hairs) => [String(hairs), perUnit(hairs)]),
  );
  const { keys: _, ...made } = map(keys, "Follicular units by the number of hairs in each.");
  return {
    ...made,
    toVisit: (read: unknown) => made.toVisit(read) as Readonly<Record<string, number>> | undefined,
    toFile: (written: unknown) =>
      new Map(
        Object.entries(written as Readonly<Record<string, number>>).map(([hairs, n]) => [Number(hairs), n]),
      ),
  } satisfies Key<(typeof made)["schema"], Readonly<Record<string, number>>, "optional">;
}

export const scope = always(SCOPE_KEYS, "The dermoscope as used.", { oneLine: true });
