/**
 * Fields of the form from the table of keys of the visit file. What a plain field cannot show has a control of its own, named here
 * by key; a key that is new in the table is on the form without a word said here.
 */
import type { JSX } from "preact";
import type { KeyPath } from "../../base/yaml-source.js";
import type { FormField } from "../messages.js";
import { Because } from "./because.js";
import { Began } from "./began.js";
import { AnsweredFacts, ChosenFacts } from "./facts.js";
import { Choice, Lines, Pick, Text, Tick } from "./fields.js";
import { labelOf } from "./labels.js";
import { Medicines } from "./medicines.js";
import { Answers } from "./plan-answers.js";
import { useHere } from "./use.js";

interface OwnProps {
  readonly path: KeyPath;
}

/** Controls of their own: by key, or by the head of several keys that one control holds. */
const OWN: Readonly<Record<string, (props: OwnProps) => JSX.Element | null>> = {
  "visit.seen_by": SeenBy,
  asked: ({ path }) => {
    const { visit } = useHere();
    return (
      <AnsweredFacts
        path={path}
        label="Questions asked"
        kinds={["red flag", "history"]}
        first={visit.state.askedFor}
      />
    );
  },
  "history.began": Began,
  "history.medicines": Medicines,
  "history.exposures": ({ path }) => <ChosenFacts path={path} label="Exposures" kinds={["exposure"]} />,
  "examination.pattern": ({ path }) => (
    <ChosenFacts path={path} label="Pattern of loss" kinds={["pattern"]} />
  ),
  "examination.signs": ({ path }) => (
    <AnsweredFacts path={path} label="Signs to eye and touch" kinds={["sign"]} />
  ),
  "sites.site": Region,
  "sites.signs": ({ path }) => (
    <AnsweredFacts path={path} label="Signs to eye and touch at this place" kinds={["sign"]} />
  ),
  "pull_test.site": Region,
  "impression.disorder": Disorder,
  "impression.because": Because,
  "impression.in_handout": ({ path }) => (
    <Tick path={path} label={labelOf("impression.in_handout").label} value="no" />
  ),
  "plan.who": ({ path }) => (
    <Text path={path} label="Who" suggestions={["general practitioner", "patient", "clinic"]} />
  ),
  "plan.answers": Answers,
};

interface FieldsProps {
  /** The key in the table whose keys are shown. */
  readonly under: string;
  /** Where these keys stand in the file. */
  readonly at: KeyPath;
  /** These first, or these alone. */
  readonly only?: readonly string[];
  readonly without?: readonly string[];
}

/** Every key below one key of the table. */
export function Fields({ under, at, only, without = [] }: FieldsProps): JSX.Element {
  const { words } = useHere();
  const below = words.fields.filter(({ path }) => path === under || path.startsWith(`${under}.`));
  const within = (path: string, keys: readonly string[]) =>
    keys.some((key) => path === `${under}.${key}` || path.startsWith(`${under}.${key}.`));
  const wanted = below.filter(({ path }) => !within(path, without) && (!only || within(path, only)));
  const shown = new Set<string>();
  return (
    <>
      {wanted.map((field) => {
        const own = ownOf(field.path);
        if (shown.has(own ?? field.path)) return null;
        shown.add(own ?? field.path);
        const rest = (own ?? field.path).slice(under.length).split(".").filter(Boolean);
        const path = [...at, ...rest];
        const Own = own === undefined ? undefined : OWN[own];
        return Own ? <Own key={own} path={path} /> : <Plain key={field.path} field={field} path={path} />;
      })}
    </>
  );
}

/** The control of its own that holds a key: the key's, or that of a key above it. */
function ownOf(path: string): string | undefined {
  const steps = path.split(".");
  return steps.map((_, i) => steps.slice(0, i + 1).join(".")).find((head) => Object.hasOwn(OWN, head));
}

const MOST_SEGMENTS = 6;

function Plain({ field, path }: { readonly field: FormField; readonly path: KeyPath }): JSX.Element {
  const { label, hint, blank = "—", placeholder, suggestions, rows } = labelOf(field.path);
  const more = { path, label, ...(hint === undefined ? {} : { hint }) };
  const { kind, words = [], least = 0, greatest = 0, most } = field;
  if (kind === "word")
    return words.length <= MOST_SEGMENTS ? (
      <Choice {...more} choices={words} blank={blank} />
    ) : (
      <Pick {...more} options={words.map((word) => [word, word] as const)} />
    );
  if (kind === "yes-no") return <Tick {...more} value={field.path === "plan.declined" ? "yes" : "true"} />;
  if (kind === "number")
    return <Text {...more} kind="number" hint={hint ?? (greatest <= 100 ? `${least}–${greatest}` : "")} />;
  if (kind === "date") return <Text {...more} kind="date" />;
  if (kind === "lines" || kind === "words" || kind === "map")
    return <Lines {...more} {...(rows === undefined ? {} : { rows })} />;
  return (
    <Text
      {...more}
      {...(kind === "prose" || rows !== undefined ? { rows: rows ?? 2, wide: true } : {})}
      {...(most === undefined ? {} : { most })}
      {...(placeholder === undefined ? {} : { placeholder })}
      {...(suggestions === undefined ? {} : { suggestions })}
    />
  );
}

function SeenBy({ path }: OwnProps): JSX.Element {
  const { words } = useHere();
  return (
    <Pick path={path} label="Seen by" options={words.people.map(({ key, name }) => [key, name] as const)} />
  );
}

function Region({ path }: OwnProps): JSX.Element {
  const { words } = useHere();
  return (
    <Pick
      path={path}
      label={path[0] === "sites" ? "Region" : "Where"}
      options={words.regions.map(({ id, term }) => [id, term] as const)}
      means={(word) => words.regionOf.find(word)}
    />
  );
}

function Disorder({ path }: OwnProps): JSX.Element {
  const { words } = useHere();
  return (
    <Pick
      path={path}
      label="Disorder"
      options={words.disorders.map(({ term }) => [term, term] as const)}
      means={(word) => words.disorders.find(({ id }) => id === words.disorderOf.find(word))?.term}
    />
  );
}
