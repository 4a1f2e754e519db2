/** A line to type or dictate into: what it is read as stands below it, and nothing is kept before Enter or a touch. */
import type { JSX, RefObject, TargetedKeyboardEvent } from "preact";
import { useId, useState } from "preact/hooks";
import type { FindingEntry } from "../messages.js";
import type { Amount } from "./amounts.js";
import { AMOUNT_KEYS } from "./amounts.js";
import { Choices, imageOf } from "./combo.js";
import { matches } from "./match.js";
import { type Reading, readLine } from "./reading.js";
import { useHere } from "./use.js";

type Given = Exclude<Amount, null>;

/** By name of the place, a line that was begun there and not kept. */
export const drafts = new Map<string, string>();

interface LineProps {
  readonly input: RefObject<HTMLInputElement | null>;
  readonly record: (finding: FindingEntry, amount: Given) => void;
  readonly resize: (length: number, width: number) => void;
}

export function TypedLine({ input, record, resize }: LineProps): JSX.Element {
  const { visit, words } = useHere();
  const id = useId();
  const [typed, draw] = useState(drafts.get(visit.siteName) ?? "");
  const setTyped = (text: string) => {
    drafts.set(visit.siteName, text);
    draw(text);
  };
  const [pending, setPending] = useState<FindingEntry | null>(null);
  const [active, setActive] = useState(0);
  const readings = typed.trim() === "" ? [] : readLine(typed, words.findings);
  const [only] = readings;
  // One name alone: the list of words that begin like it, to choose from.
  const isName =
    readings.length === 1 &&
    (only?.kind === "unread" || (only?.kind === "finding" && only.amounts.length === 0));
  const choices = isName ? matches(typed, words.findings) : [];
  const complete =
    readings.length > 0 &&
    readings.every((r) =>
      r.kind === "finding" ? r.amounts.length > 0 && !r.asks : r.kind === "patch" && r.sizes.length === 1,
    );
  const clear = () => {
    setTyped("");
    setActive(0);
  };
  const keep = (reading: Reading, n = 0) => {
    if (reading.kind === "finding") {
      const amount = reading.amounts[n]?.amount;
      if (amount !== undefined) record(reading.finding, amount);
    } else if (reading.kind === "patch") {
      const size = reading.sizes[n];
      if (size) resize(size.length, size.width);
    }
  };
  const keepOne = (index: number, n = 0) => {
    const reading = readings[index];
    if (!reading) return;
    keep(reading, n);
    setTyped(
      readings
        .filter((_, i) => i !== index)
        .map(({ text }) => text)
        .join(", "),
    );
    input.current?.focus();
  };
  const choose = (index: number) => {
    const finding = choices[index]?.entry;
    if (!finding) return;
    setPending(finding);
    clear();
  };
  const amountFor = (finding: FindingEntry, word: string) => {
    record(finding, word);
    setPending(null);
    input.current?.focus();
  };
  const onKeyDown = (event: TargetedKeyboardEvent<HTMLInputElement>) => {
    const key = AMOUNT_KEYS.find((a) => a.key === event.key.toLowerCase());
    if (pending && typed === "" && key && !event.ctrlKey && !event.metaKey) amountFor(pending, key.word);
    else if (event.key === "Escape" && (typed !== "" || pending)) {
      clear();
      setPending(null);
    } else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && choices.length > 0)
      setActive((active + (event.key === "ArrowDown" ? 1 : choices.length - 1)) % choices.length);
    else if (event.key === "Enter" && choices.length > 0) choose(active);
    else if (event.key === "Enter" && complete) {
      for (const reading of readings) keep(reading);
      clear();
    } else if (event.key !== "Enter") return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div class="typed-line combo">
      <label for={id}>
        Find, type or dictate a finding{" "}
        <span class="hint keys-hint">
          such as yellow dots many, no black dots, patch 30 by 20 mm (Ctrl K)
        </span>
      </label>
      <input
        ref={input}
        id={id}
        type="text"
        role="combobox"
        autocomplete="off"
        spellcheck={false}
        value={typed}
        disabled={visit.state.signed}
        aria-expanded={choices.length > 0}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={choices.length > 0 ? `${id}-${active}` : undefined}
        aria-describedby={`${id}-read`}
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          setActive(0);
          if (event.currentTarget.value !== "") setPending(null);
        }}
        onKeyDown={onKeyDown}
      />
      <Choices
        id={id}
        label="Findings"
        found={choices}
        active={active}
        take={(i) => {
          choose(i);
          input.current?.focus();
        }}
        picture={({ picture }) => imageOf(picture)}
      />
      <div id={`${id}-read`} class="read" aria-live="polite">
        {pending ? (
          <fieldset class="read-one pending">
            <legend>
              <b>{pending.term}</b>: how much?
            </legend>
            <span class="pad">
              {AMOUNT_KEYS.map(({ key, word, label }) => (
                <button
                  key={key}
                  type="button"
                  aria-label={`${pending.term}: ${key} ${label}`}
                  onClick={() => amountFor(pending, word)}
                >
                  <kbd>{key}</kbd> <small>{label}</small>
                </button>
              ))}
            </span>
          </fieldset>
        ) : null}
        {isName
          ? null
          : readings.map((reading, i) => (
              <ReadAs key={`${i} ${reading.text}`} reading={reading} keep={(n) => keepOne(i, n)} />
            ))}
        {!isName && complete ? (
          <p class="hint">Enter keeps {readings.length === 1 ? "it" : `all ${readings.length}`}.</p>
        ) : null}
      </div>
    </div>
  );
}

/** One part of the line and what it would record; a touch keeps it. */
function ReadAs({
  reading,
  keep,
}: {
  readonly reading: Reading;
  readonly keep: (n: number) => void;
}): JSX.Element {
  if (reading.kind === "unread")
    return (
      <p class="read-one unread">
        Not understood: <q>{reading.text}</q>
      </p>
    );
  const meanings = reading.kind === "finding" ? reading.amounts : reading.sizes;
  const name = reading.kind === "finding" ? reading.finding.term : "";
  const asks = reading.kind === "finding" ? reading.asks : reading.sizes.length > 1;
  return (
    <p class="read-one">
      {name ? <b>{name}</b> : null} {meanings.length === 0 ? <span class="hint">how much?</span> : null}
      {asks ? <span class="hint">which is meant?</span> : null}
      {meanings.map(({ says }, n) => (
        <button key={says} type="button" aria-label={`Keep ${name} ${says}`} onClick={() => keep(n)}>
          {says}
        </button>
      ))}
    </p>
  );
}
