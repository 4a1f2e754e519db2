/** Facts of the catalogue as chips: questions and signs answered yes or no, exposures and patterns chosen; left alone is not asked. */
import type { JSX } from "preact";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import type { Edit, FactEntry, Written } from "../messages.js";
import { mapAt, textsAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Said } from "./fields.js";
import { placeName } from "./place-name.js";
import { useHere, type Words } from "./use.js";

const YES = new Set(["yes", "true", "on"]);
const NO = new Set(["no", "false", "off"]);

type Answer = "yes" | "no" | null;

/** The answers of a map, by fact id, with the key under which each stands. */
export function answersAt(
  written: Written,
  path: KeyPath,
  words: Words,
): Map<string, { readonly key: string; readonly answer: Answer }> {
  return new Map(
    Object.entries(mapAt(written, path)).flatMap(([key, value]) => {
      const id = words.factOf.find(key);
      if (id === undefined) return [];
      const text = typeof value === "string" ? value.toLowerCase() : "";
      return [[id, { key, answer: YES.has(text) ? "yes" : NO.has(text) ? "no" : null }] as const];
    }),
  );
}

/** The edit that answers a fact, under the spelling that the file has. */
export function answerEdit(
  written: Written,
  path: KeyPath,
  fact: FactEntry,
  answer: Answer,
  words: Words,
): Edit {
  const key = answersAt(written, path, words).get(fact.id)?.key ?? fact.term;
  return answer === null
    ? { do: "remove", path: [...path, key] }
    : { do: "set", path: [...path, key], value: answer };
}

export function YesNo({
  fact,
  path,
  why,
}: {
  readonly fact: FactEntry;
  readonly path: KeyPath;
  readonly why?: string;
}): JSX.Element {
  const { visit, words, announce } = useHere();
  const now = answersAt(visit.written, path, words).get(fact.id)?.answer ?? null;
  const give = (answer: Answer) => {
    visit.edit(answerEdit(visit.written, path, fact, answer === now ? null : answer, words));
    announce(`${fact.term}: ${answer === now ? "not asked" : answer}`);
  };
  return (
    <li class="fact" data-fact={fact.id}>
      <span class="asks" title={fact.what}>
        {fact.question ?? fact.term}
        {fact.urgency ? <span class="urgency">{fact.urgency}</span> : null}
        {why ? <span class="hint"> {why}</span> : null}
      </span>
      <span class="steps-of">
        {(["yes", "no"] as const).map((answer) => (
          <button
            key={answer}
            type="button"
            aria-label={`${fact.term}: ${answer}`}
            aria-pressed={now === answer}
            disabled={visit.state.signed}
            onClick={() => give(answer)}
          >
            {answer}
          </button>
        ))}
      </span>
    </li>
  );
}

interface FactsProps {
  readonly path: KeyPath;
  readonly label: string;
  readonly kinds: readonly FactEntry["kind"][];
  /** Shown before anything was answered. */
  readonly first?: readonly { readonly id: string; readonly why?: string }[];
}

/** Questions or signs: those called for and those answered stand open, any other is a search away. */
export function AnsweredFacts({ path, label, kinds, first = [] }: FactsProps): JSX.Element {
  const { visit, words } = useHere();
  const mine = words.facts.filter(({ kind }) => kinds.includes(kind));
  const answered = answersAt(visit.written, path, words);
  const why = new Map(first.map(({ id, why }) => [id, why]));
  const shown = mine
    .filter(({ id }) => answered.has(id) || why.has(id))
    .sort((a, b) => Number(why.has(b.id)) - Number(why.has(a.id)));
  return (
    <div class="facts" data-place={writePath(path)}>
      <ul aria-label={label}>
        {shown.map((fact) => {
          const reason = why.get(fact.id);
          return <YesNo key={fact.id} fact={fact} path={path} {...(reason ? { why: reason } : {})} />;
        })}
      </ul>
      {visit.state.signed ? null : (
        <Combo
          label={shown.length > 0 ? `Another of: ${label}` : label}
          hint="a few letters, then yes or no"
          entries={mine.filter(({ id }) => !answered.has(id))}
          onTake={(fact) => {
            visit.edit(answerEdit(visit.written, path, fact, "yes", words));
            return "";
          }}
        />
      )}
      <Said path={path} id={`said-${path.join("-")}`} />
    </div>
  );
}

/** Exposures or patterns: one chip each, chosen or not. */
export function ChosenFacts({ path, label, kinds }: FactsProps): JSX.Element {
  const { visit, words } = useHere();
  const listed = textsAt(visit.written, path);
  const isChosen = (id: string) => listed.some((text) => words.factOf.find(text) === id);
  const toggle = (fact: FactEntry) => {
    const others = listed.filter((text) => words.factOf.find(text) !== fact.id);
    const next = others.length < listed.length ? others : [...listed, fact.term];
    if (next.length === 0) visit.remove(path);
    else visit.put(path, next);
  };
  return (
    <fieldset class="chips" data-place={writePath(path)} disabled={visit.state.signed}>
      <legend>{label}</legend>
      {words.facts
        .filter(({ kind }) => kinds.includes(kind))
        .sort((a, b) => a.term.localeCompare(b.term))
        .map((fact) => (
          <button
            key={fact.id}
            type="button"
            class="chip"
            title={fact.what}
            aria-pressed={isChosen(fact.id)}
            onClick={() => toggle(fact)}
          >
            {fact.term}
          </button>
        ))}
      <Said path={path} id={`said-${path.join("-")}`} />
    </fieldset>
  );
}

const STATES = {
  present: "said",
  absent: "denied",
  doubtful: "left open",
  past: "said of the past",
  "other person": "said of somebody else",
  harmless: "said in passing",
} as const;

/** Facts that the reader found in free text. Words settle nothing: each is confirmed or denied where facts are recorded. */
export function ReadFromWords(): JSX.Element | null {
  const { visit, words, announce } = useHere();
  const { written } = visit;
  const open = visit.state.readFromWords.flatMap(({ fact: id, state, where, words: said }) => {
    const fact = words.facts.find((f) => f.id === id);
    const path = fact && PLACES[fact.kind];
    if (!fact || !path) return [];
    const isRecorded = LISTED.has(fact.kind)
      ? textsAt(written, path).some((text) => words.factOf.find(text) === id)
      : answersAt(written, path, words).has(id);
    return isRecorded ? [] : [{ fact, path, state, where, said }];
  });
  if (open.length === 0 || visit.state.signed) return null;
  const settle = (fact: FactEntry, path: KeyPath, answer: "yes" | "no") => {
    if (LISTED.has(fact.kind)) visit.put(path, [...textsAt(written, path), fact.term]);
    else visit.edit(answerEdit(written, path, fact, answer, words));
    announce(`${fact.term}: ${answer}`);
  };
  return (
    <section class="last-visit" aria-label="Read from your words">
      <h3>Read from your words</h3>
      <ul>
        {open.map(({ fact, path, state, where, said }) => (
          <li key={`${fact.id} ${where} ${said}`}>
            <span class="term">
              {fact.term}{" "}
              <span class="hint">
                {STATES[state]}: “{said}” ({placeName(where)})
              </span>
            </span>
            <span class="steps-of">
              <button
                type="button"
                aria-label={`Confirm ${fact.term}`}
                onClick={() => settle(fact, path, "yes")}
              >
                confirm
              </button>
              {LISTED.has(fact.kind) ? null : (
                <button
                  type="button"
                  aria-label={`Deny ${fact.term}`}
                  onClick={() => settle(fact, path, "no")}
                >
                  deny
                </button>
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Where a fact of each kind is recorded; medicines are recorded as medicines. */
const PLACES: Readonly<Partial<Record<FactEntry["kind"], KeyPath>>> = {
  "red flag": ["asked"],
  history: ["asked"],
  exposure: ["history", "exposures"],
  pattern: ["examination", "pattern"],
  sign: ["examination", "signs"],
};
/** Kinds of which only what holds is listed. */
const LISTED: ReadonlySet<FactEntry["kind"]> = new Set(["exposure", "pattern"]);
