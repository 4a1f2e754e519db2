/** Gathers what checks report, leaving out what a problem already known explains. */
import type { Problem } from "../base/problem.js";
import { type KeyPath, valueAt, writePath, type YamlSource } from "../base/yaml-source.js";
import { type ProblemDetails, problemAt } from "./issues.js";
import type { ProblemId } from "./problems.js";

export type Report = (
  id: ProblemId,
  path: KeyPath,
  said: ProblemDetails & { readonly absent?: string; readonly near?: KeyPath },
) => void;

/** A way to report, and the list it fills. `absent` names a key of the map at the path that is left out; `near` is the place to show for it. */
export function reporter(
  source: YamlSource,
  known: readonly Problem[],
): { report: Report; reported: Problem[] } {
  const reported: Problem[] = [];
  const misread = known.flatMap((p) => p.path ?? []);
  const report: Report = (id, path, { absent, near, ...said }) => {
    if (absent === undefined) {
      reported.push(problemAt(source, id, path, said));
      return;
    }
    const missing = writePath([...path, absent]);
    if (misread.some((p) => isWithin(p, missing)) || isMisspelt(known, writePath(path), absent)) return;
    const map = valueAt(source.value, path);
    if (map !== null && typeof map === "object" && Object.hasOwn(map, absent)) {
      reported.push(problemAt(source, id, path, { ...said, key: absent }));
      return;
    }
    const last = path.at(-1);
    const parent = near
      ? { path: near }
      : typeof last === "string"
        ? { path: path.slice(0, -1), key: last }
        : { path };
    const problem = problemAt(source, id, parent.path, {
      ...said,
      ...("key" in parent ? { key: parent.key } : {}),
    });
    reported.push({ ...problem, path: missing });
  };
  return { report, reported };
}

/** True when a key nobody knows, in the same map, was probably meant for the missing one. */
function isMisspelt(known: readonly Problem[], map: string, key: string): boolean {
  return known.some(
    (p) =>
      (p.id === "unknown-key" || p.id === "unit-in-key") &&
      parentOf(p.path ?? "", p.found ?? "") === map &&
      (p.suggestion ?? "").split(" or ").some((word) => word.replace(/: .*$/u, "") === key),
  );
}

/** True for `sites`, `sites[0]` and `sites.x` within `sites`. */
const isWithin = (path: string, whole: string) =>
  path.startsWith(whole) && /^(?:$|[.[])/u.test(path.slice(whole.length));

const parentOf = (path: string, key: string) => path.slice(0, path.length - key.length).replace(/\.$/u, "");
