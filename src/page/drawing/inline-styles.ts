/** A drawing with a style sheet of its own -> the same drawing that says all in attributes, which every reader of drawings understands. */
import { selectAll } from "css-select";
import { parse as parseSelectors, type Selector, SelectorType } from "css-what";
import { DomUtils, parseDocument } from "htmlparser2";

/** What a style sheet may set: how lines, areas and letters look. Anything else has no place in a printed drawing, and is left out. */
const PRESENTATION: ReadonlySet<string> = new Set([
  "clip-path",
  "clip-rule",
  "color",
  "display",
  "fill",
  "fill-opacity",
  "fill-rule",
  "font-family",
  "font-size",
  "font-style",
  "font-weight",
  "letter-spacing",
  "mask",
  "opacity",
  "stop-color",
  "stop-opacity",
  "stroke",
  "stroke-dasharray",
  "stroke-dashoffset",
  "stroke-linecap",
  "stroke-linejoin",
  "stroke-miterlimit",
  "stroke-opacity",
  "stroke-width",
  "text-anchor",
  "visibility",
]);

type Element = ReturnType<typeof DomUtils.getElementsByTagName>[number];

interface Rule {
  readonly selectors: Selector[][];
  readonly sets: readonly (readonly [string, string])[];
}

/** Undefined where the style sheet is more than plain rules: what cannot be followed is not guessed at. */
export function inlineStyles(svg: string): string | undefined {
  const document = parseDocument(svg, { xmlMode: true });
  const all = DomUtils.getElementsByTagName("*", document, true);
  const sheets = all.filter(({ name }) => name === "style");
  const rules: Rule[] = [];
  for (const sheet of sheets) {
    const found = rulesIn(DomUtils.textContent(sheet));
    if (!found) return undefined;
    rules.push(...found);
  }
  const styled = new Map<Element, { readonly rank: number; readonly sets: Rule["sets"] }[]>();
  for (const { selectors, sets } of rules)
    for (const selector of selectors) {
      const rank = rankOf(selector);
      // The list that is handed over is shortened there.
      for (const element of selectAll<Element, Element>([selector], [...all], { xmlMode: true }))
        styled.set(element, [...(styled.get(element) ?? []), { rank, sets }]);
    }
  for (const element of all) {
    const own = element.attribs.style === undefined ? [] : setsIn(element.attribs.style);
    const ranked = (styled.get(element) ?? []).toSorted((a, b) => a.rank - b.rank);
    for (const [name, value] of [...ranked.flatMap(({ sets }) => sets), ...own])
      element.attribs[name] = value;
    delete element.attribs.style;
    delete element.attribs.class;
  }
  for (const sheet of sheets) DomUtils.removeElement(sheet);
  const [root] = document.children.filter((node) => DomUtils.isTag(node));
  return root ? DomUtils.getOuterHTML(root, { xmlMode: true }) : undefined;
}

/** Rules such as `.a, path.b { fill: #123 }`; undefined for media, imports and whatever is no rule. */
function rulesIn(text: string): Rule[] | undefined {
  const plain = text.replace(/\/\*[\s\S]*?\*\//gu, "").replace(/<!--|-->/gu, "");
  const rules: Rule[] = [];
  const rest = plain.replace(/([^{}@]+)\{([^{}]*)\}/gu, (_, head: string, body: string) => {
    rules.push({ selectors: selectorsIn(head.trim()), sets: setsIn(body) });
    return "";
  });
  return rest.trim() === "" && rules.every(({ selectors }) => selectors.length > 0) ? rules : undefined;
}

function selectorsIn(head: string): Selector[][] {
  try {
    return parseSelectors(head).filter((selector) =>
      selector.every(({ type }) => type !== SelectorType.Pseudo && type !== SelectorType.PseudoElement),
    );
  } catch {
    return [];
  }
}

const setsIn = (body: string): (readonly [string, string])[] =>
  body.split(";").flatMap((line) => {
    const at = line.indexOf(":");
    const name = line.slice(0, at).trim().toLowerCase();
    const value = line
      .slice(at + 1)
      .replace(/!important/iu, "")
      .trim();
    return at > 0 && PRESENTATION.has(name) && value !== "" ? [[name, value] as const] : [];
  });

/** The more a selector names, the later it counts: ids, then classes and attributes, then elements. */
function rankOf(selector: Selector[]): number {
  return selector.reduce((sum, part) => {
    if (part.type === SelectorType.Attribute) return sum + (part.name === "id" ? 10_000 : 100);
    return sum + (part.type === SelectorType.Tag ? 1 : 0);
  }, 0);
}
