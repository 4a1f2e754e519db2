/** The sites of a skeleton: under each the findings to look for, with where to look and what was seen last time. */
import type { Knowledge } from "../knowledge/schema.js";
import type { DraftSite } from "./draft.js";
import type { Hint } from "./hint.js";
import type { LookGroup } from "./look-for.js";
import { line, remark, withComment } from "./yaml-line.js";

/** Lines of `sites:`; the groups are asked at every site, explained at the first. */
export function skeletonSites(
  sites: readonly DraftSite[],
  groups: readonly LookGroup[],
  knowledge: Knowledge,
  hint: Hint,
): string[] {
  const all: readonly DraftSite[] = sites.length > 0 ? sites : [{}];
  return [
    withComment("sites:", "one entry for each place looked at; other regions:"),
    ...remark(2, regions(knowledge)),
    ...all.flatMap((site, i) => [
      ...(i > 0 ? [""] : []),
      ...siteLines(site, groups, knowledge, hint, i === 0),
    ]),
  ];
}

const regions = (knowledge: Knowledge) => Object.keys(knowledge.regions).join(", ");

function siteLines(
  site: DraftSite,
  groups: readonly LookGroup[],
  knowledge: Knowledge,
  hint: Hint,
  first: boolean,
): string[] {
  const margin = hint("sites", 0, "patch", "margin").replace(", ", " or ");
  const patch = site.patchBefore ? `last time ${site.patchBefore}; ` : "";
  return [
    line(2, "- site", site.site),
    ...(site.at
      ? [line(4, "at", site.at)]
      : first
        ? [withComment("    # at: { x: 0.5, y: 0.5 }", "place on the map")]
        : []),
    withComment("    # patch: { length_mm: , width_mm: , margin: }", `${patch}margin ${margin}`),
    withComment(
      "    findings:",
      first ? "none, single, few, several, many, throughout, seen, or" : "as above",
    ),
    ...(first
      ? remark(6, "{ count: 14, fields: 2 }. Empty: not assessed. Looked for and not seen: none.")
      : []),
    ...askedLines(site, groups, knowledge, first),
    ...(first
      ? [
          withComment("    # none_of: [yellow dots, black dots]", "the same as none after each"),
          withComment(
            "    # fields: [{ hairs: , thin: , vellus: }]",
            "counted fields of view, one entry each",
          ),
        ]
      : []),
  ];
}

function askedLines(
  site: DraftSite,
  groups: readonly LookGroup[],
  knowledge: Knowledge,
  first: boolean,
): string[] {
  const asked = site.ask ?? [];
  const before = site.before ?? {};
  const all: LookGroup[] = [
    ...(asked.length > 0 ? [{ heading: "recorded last time", why: "", findings: asked }] : []),
    ...groups.map((g) => ({ ...g, findings: g.findings.filter((f) => !asked.includes(f)) })),
  ];
  const listed = all.flatMap((g) => g.findings);
  const unlisted = Object.keys(site.seen ?? {}).filter((f) => !listed.includes(f));
  if (unlisted.length > 0) all.push({ heading: "also seen", why: "", findings: unlisted });
  return all
    .filter((g) => g.findings.length > 0)
    .flatMap((group) => [
      ...(first ? remark(6, group.why ? `${group.heading}: ${group.why}` : `${group.heading}:`) : []),
      ...group.findings.map((id) => {
        const finding = knowledge.findings[id];
        const last = before[id] ? `last time ${before[id]}` : "";
        const look = first ? (finding?.look ?? "") : "";
        return line(6, finding?.term ?? id, site.seen?.[id], [last, look].filter(Boolean).join("; "));
      }),
    ]);
}
