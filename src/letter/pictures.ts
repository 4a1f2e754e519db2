/** Photos of a visit as a letter prints them: which site, what the caption says, how long the scale bar is. */

import { fill } from "../base/text.js";
import type { FactsInput, Photo } from "./facts-input.js";
import { findingTerm } from "./findings-table.js";
import type { LetterFacts } from "./variables.js";
import { capital, writeNumber } from "./words.js";

export interface Pictures {
  /** `<svg>` or `<img src="photo:logo" alt="">`. */
  readonly logo?: string;
  readonly photos: readonly Photo[];
  /** JPEG bytes by id, free of metadata. */
  readonly bytes: Readonly<Record<string, Uint8Array>>;
}

export type { Photo };

type PhotoRows = LetterFacts["photos"];
type PhotoFacts = PhotoRows[number]["left"];

/** Points: large enough to read, small enough never to need a page of its own. */
const PHOTO_WIDTH = 150;

/** In rows of two, as the letter sets them; the image elements go into `drawings`. */
export function photoFacts(input: FactsInput): PhotoRows {
  const { words, visit } = input;
  const all = input.photos.flatMap((photo): PhotoFacts[] => {
    const site = visit.sites[photo.siteIndex];
    if (!site) return [];
    const place = fill(words.phrases.photo_site ?? "", {
      number: photo.siteIndex + 1,
      site: words.regions[site.site] ?? site.site,
    });
    const seen = site.findings
      .filter((f) => f.seen.state === "present")
      .map((f) => findingTerm(input.knowledge, f.finding));
    const alt = fill(words.phrases.photo_alt ?? "", {
      place,
      caption: photo.caption,
      findings: seen.join(", "),
    });
    const drawing = `photo:${photo.id}`;
    input.drawings[drawing] = () =>
      `<img src="photo:${photo.id}" width="${PHOTO_WIDTH}" alt="${attribute(alt)}">`;
    const bar =
      photo.barMm === null
        ? ""
        : fill(words.phrases.photo_bar ?? "", {
            mm: writeNumber(words, photo.barMm, photo.barMm < 1 ? 1 : 0),
          });
    return [{ drawing, site: capital(place), caption: photo.caption, bar }];
  });
  return all.flatMap((left, i) => (i % 2 === 0 ? [{ left, right: all[i + 1] ?? null }] : []));
}

function attribute(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}
