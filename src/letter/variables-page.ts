/** The schema of template variables -> the reference page a clinic reads beside the templates. */
import { z } from "zod";
import { HELPER_NOTES, variablesSchema } from "./variables.js";

interface Node {
  readonly type?: string;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
}

const KINDS: Readonly<Record<string, string>> = {
  string: "text",
  number: "number",
  boolean: "yes or no",
  array: "list",
  object: "group",
};

/** The page in Markdown; equal code gives equal text. */
export function variablesPage(): string {
  const root: Node = JSON.parse(JSON.stringify(z.toJSONSchema(variablesSchema)));
  const sections = Object.entries(root.properties ?? {})
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, node]) => section(name, node));
  const helpers = Object.entries(HELPER_NOTES).map(
    ([name, { use, gives }]) => `| \`${name}\` | \`${use}\` | ${gives} |`,
  );
  return [
    "# Variables of the templates",
    "<!-- Made from src/letter/variables.ts by `npm run templates`; edit there. -->",
    "Every document has the same variables, and each of them is always there: an empty text, an empty list or null stands for what was not recorded. Write a variable with two braces, `{{patient.fullName}}`. Inside `{{#each sites}}` the names after `sites[]` are at hand: `{{name}}`. A name that is not listed here is an error with file and line.",
    "## Helpers",
    ["| Helper | Example | Gives |", "|---|---|---|", ...helpers].join("\n"),
    "Besides these there are `if`, `unless`, `each` and `with`, and the parts in the files that end in `.part.hbs`: `{{> signature}}`.",
    ...sections,
  ]
    .join("\n\n")
    .concat("\n");
}

function section(name: string, node: Node): string {
  const rows = rowsOf(name, node).map((r) => `| \`${r.name}\` | ${r.kind} | ${r.says} |`);
  return [`## ${name}`, ["| Variable | Kind | What it is |", "|---|---|---|", ...rows].join("\n")].join(
    "\n\n",
  );
}

function rowsOf(name: string, node: Node): { name: string; kind: string; says: string }[] {
  const inner = node.anyOf?.find((n) => n.type !== "null") ?? node;
  const isTexts = inner.type === "array" && inner.items?.type === "string";
  const kind = isTexts ? "list of texts" : (KINDS[inner.type ?? ""] ?? "text");
  const own = { name, kind: node.anyOf ? `${kind} or null` : kind, says: node.description ?? "" };
  const parts = inner.type === "array" ? inner.items?.properties : inner.properties;
  const prefix = inner.type === "array" ? `${name}[]` : name;
  return [own, ...Object.entries(parts ?? {}).flatMap(([key, n]) => rowsOf(`${prefix}.${key}`, n))];
}
