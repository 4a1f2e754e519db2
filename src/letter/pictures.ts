/** Photos of a visit as documents print them: which site, what the caption says, how long the scale bar is, what numbered marks point at. */

import type { FindingId } from "../base/ids.js";
import { fill } from "../base/text.js";
import type { Site } from "../visit/visit.js";
import type { FactsInput, Photo } from "./facts-input.js";
import { findingTerm } from "./findings-table.js";
import { capital, type Words, writeNumber } from "./phrases.js";
import { plainAmount, tellingFindings } from "./pictured.js";
import type { LetterFacts } from "./variables.js";

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
/** In a handout, whose drawings stand beside it. */
const PLAIN_WIDTH = 112;

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
    const legend = legendText(input, photo);
    const alt = [
      fill(words.phrases.photo_alt ?? "", { place, caption: photo.caption, findings: seen.join(", ") }),
      ...(legend === "" ? [] : [legend]),
    ].join(" ");
    const drawing = `photo:${photo.id}`;
    input.drawings[drawing] = () =>
      `<img src="photo:${photo.id}" width="${PHOTO_WIDTH}" alt="${attribute(alt)}">`;
    const bar =
      photo.barMm === null
        ? ""
        : fill(words.phrases.photo_bar ?? "", {
            mm: writeNumber(words, photo.barMm, photo.barMm < 1 ? 1 : 0),
          });
    return [{ drawing, site: capital(place), caption: photo.caption, bar, legend }];
  });
  return all.flatMap((left, i) => (i % 2 === 0 ? [{ left, right: all[i + 1] ?? null }] : []));
}

/** `Mark 1: exclamation mark hairs; mark 2: yellow dots; broken line: the area counted, 62 hairs.` */
function legendText({ words, knowledge }: FactsInput, { marks }: Photo): string {
  const lines = legendLines(
    words,
    marks,
    (finding) => findingTerm(knowledge, finding),
    words.phrases.photo_patch ?? "",
  );
  if (marks?.hairs !== undefined) lines.push(fill(words.phrases.photo_area ?? "", { hairs: marks.hairs }));
  return lines.length > 0 ? `${capital(lines.join("; "))}.` : "";
}

function legendLines(
  words: Words,
  marks: Photo["marks"],
  nameOf: (finding: FindingId) => string,
  edge: string,
): string[] {
  return (marks?.legend ?? []).map(({ number, finding }) =>
    fill(words.phrases.photo_legend ?? "", {
      number,
      what: finding === null ? edge : nameOf(finding),
    }),
  );
}

/** More pictures than this are no help to a reader. Common practice, no source. */
const MOST_PLAIN = 2;

/** Photos with numbered marks for the handout; none that would tell a name which is kept back. */
export function plainPhotoFacts(input: FactsInput): LetterFacts["photosPlain"] {
  const { words, visit, knowledge } = input;
  const telling = tellingFindings(input);
  const nameOf = (finding: FindingId) => knowledge.findings[finding]?.plain.name ?? finding;
  const told = (finding: FindingId, { findings }: Site) => ({
    name: nameOf(finding),
    amount: plainAmount(
      words,
      findings.find((f) => f.finding === finding),
      knowledge.findings[finding]?.plain.mass,
    ),
    means: knowledge.findings[finding]?.plain.means ?? "",
  });
  const edge = words.phrases.photo_patch_plain ?? "";
  const patch = { name: edge, amount: "", means: "" };
  return input.photos
    .flatMap((photo): LetterFacts["photosPlain"] => {
      const site = visit.sites[photo.siteIndex];
      const legend = photo.marks?.legend ?? [];
      if (!site || legend.length === 0 || legend.some((l) => l.finding !== null && telling.has(l.finding)))
        return [];
      const place = knowledge.regions[site.site]?.plain ?? site.site;
      const lines = legendLines(words, photo.marks, nameOf, edge);
      const alt = fill(words.phrases.photo_plain_alt ?? "", { place, legend: capital(lines.join("; ")) });
      const rows = legend.map(({ number, finding }) => ({
        number,
        ...(finding === null ? patch : told(finding, site)),
      }));
      const drawing = `plain-photo:${photo.id}`;
      input.drawings[drawing] = () =>
        `<img src="photo:${photo.id}" width="${PLAIN_WIDTH}" alt="${attribute(alt)}">`;
      return [{ drawing, site: place, legend: rows }];
    })
    .slice(0, MOST_PLAIN);
}

function attribute(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}
