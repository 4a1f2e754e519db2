/** Form fields that hold exactly what stands in the file: every keystroke is an edit, and the library's word stands below. */
import type { ComponentChildren, JSX, TargetedInputEvent } from "preact";
import { useId, useState } from "preact/hooks";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import { listAt, textAt } from "./apply.js";
import { useHere, useProblems } from "./use.js";

interface FieldProps {
  readonly path: KeyPath;
  readonly label: string;
  readonly hint?: string;
  /** Label for readers only, where a column heading shows it. */
  readonly quiet?: boolean;
  readonly wide?: boolean;
}

/** What the library says about a field, as text with a word for how grave it is. */
export function Said({ path, id }: { readonly path: KeyPath; readonly id: string }): JSX.Element | null {
  const problems = useProblems(path);
  if (problems.length === 0) return null;
  return (
    <div id={id} class="said">
      {problems.map((problem) => (
        <p key={problem.id} class={problem.severity}>
          <span class="mark" aria-hidden="true" />
          <span class="unseen">{problem.severity}: </span>
          {problem.message}
          {problem.suggestion ? ` — ${problem.suggestion}?` : ""}
        </p>
      ))}
    </div>
  );
}

interface FrameProps extends FieldProps {
  readonly id: string;
  /** Characters left before the limit of the file, told when few are. */
  readonly left?: number;
  readonly children: ComponentChildren;
  readonly narrow?: boolean;
}

function Frame({ id, label, hint, quiet, wide, path, narrow, left, children }: FrameProps): JSX.Element {
  return (
    <div class={`field${wide ? " wide" : ""}${narrow ? " narrow" : ""}`}>
      <label for={id} class={quiet ? "unseen" : ""}>
        {label}
        {hint ? <span class="hint"> {hint}</span> : null}
      </label>
      {children}
      {left !== undefined && left <= 200 ? (
        <p class={left < 0 ? "left warning" : "left hint"} role={left < 0 ? "status" : undefined}>
          {left < 0 ? `${-left} characters too many for the file` : `${left} characters left`}
        </p>
      ) : null}
      <Said path={path} id={`${id}-said`} />
    </div>
  );
}

interface TextProps extends FieldProps {
  readonly kind?: "text" | "date" | "number";
  readonly rows?: number;
  readonly suggestions?: readonly string[];
  readonly placeholder?: string;
  readonly narrow?: boolean;
  /** Most characters that the file takes here. Nothing is cut: what is too long is said. */
  readonly most?: number;
  /** Writes in another way than by putting the text in its place. */
  readonly write?: (text: string) => void;
  /** Set together with the first text, such as the kind of a new row. */
  readonly also?: (text: string) => void;
}

export function Text(props: TextProps): JSX.Element {
  const { path, kind = "text", rows, suggestions, also, placeholder, write } = props;
  const id = useId();
  const { visit } = useHere();
  const problems = useProblems(path);
  const value = textAt(visit.written, path);
  const common = {
    id,
    value,
    placeholder,
    "data-place": writePath(path),
    "aria-invalid": problems.some(({ severity }) => severity === "error") || undefined,
    "aria-describedby": problems.length > 0 ? `${id}-said` : undefined,
    readOnly: visit.state.signed,
    autocomplete: "off",
    onInput: (event: TargetedInputEvent<HTMLInputElement | HTMLTextAreaElement>) => {
      const text = event.currentTarget.value;
      if (also && value === "" && text !== "") also(text);
      if (write) write(text);
      else visit.put(path, text);
    },
  };
  return (
    <Frame
      {...props}
      id={id}
      narrow={props.narrow ?? kind !== "text"}
      {...(props.most === undefined || value.length < props.most * 0.7
        ? {}
        : { left: props.most - value.length })}
    >
      {rows ? (
        <textarea {...common} rows={rows} spellcheck />
      ) : (
        <input
          {...common}
          type="text"
          inputMode={kind === "number" ? "decimal" : "text"}
          list={suggestions ? `${id}-list` : undefined}
          placeholder={placeholder ?? (kind === "date" ? "yyyy-mm-dd" : undefined)}
        />
      )}
      {suggestions ? (
        <datalist id={`${id}-list`}>
          {suggestions.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      ) : null}
    </Frame>
  );
}

/** A list of short texts, one to a line. */
export function Lines(props: FieldProps & { readonly rows?: number }): JSX.Element {
  const { path, rows = 1 } = props;
  const id = useId();
  const { visit } = useHere();
  const [typed, setTyped] = useState("");
  const problems = useProblems(path);
  const stored = listAt(visit.written, path).filter((line): line is string => typeof line === "string");
  const alone = textAt(visit.written, path);
  const split = (text: string) =>
    text
      .split("\n")
      .map((line) => line.trim())
      .filter(Boolean);
  const lines = alone === "" ? stored : split(alone);
  // A line just begun is empty and not stored; the typed text stands as long as it means the same.
  const value = split(typed).join("\n") === lines.join("\n") ? typed : lines.join("\n");
  return (
    <Frame {...props} id={id} hint={props.hint ?? "one a line"}>
      <textarea
        id={id}
        value={value}
        rows={Math.max(rows, value.split("\n").length)}
        data-place={writePath(path)}
        aria-describedby={problems.length > 0 ? `${id}-said` : undefined}
        readOnly={visit.state.signed}
        onInput={(event) => {
          const text = event.currentTarget.value;
          setTyped(text);
          const next = split(text);
          if (next.length === 0) visit.remove(path);
          else visit.put(path, next);
        }}
      />
    </Frame>
  );
}

interface ChoiceProps extends FieldProps {
  readonly choices: readonly (string | readonly [value: string, label: string])[];
  /** What it means to leave the place out. */
  readonly blank?: string;
}

/** One of a few words as a row of radio buttons; the first says that it was left out. */
export function Choice({ path, label, choices, blank = "not recorded", wide }: ChoiceProps): JSX.Element {
  const id = useId();
  const { visit } = useHere();
  const value = textAt(visit.written, path).toLowerCase();
  const all = [["", blank] as const, ...choices.map((c) => (typeof c === "string" ? ([c, c] as const) : c))];
  const odd = value !== "" && !all.some(([word]) => word.toLowerCase() === value);
  return (
    <fieldset
      class={`choice${wide ? " wide" : ""}`}
      data-place={writePath(path)}
      disabled={visit.state.signed}
    >
      <legend>{label}</legend>
      <div class="segments">
        {all.map(([word, text]) => (
          <label key={word} class={word === "" ? "blank" : ""}>
            <input
              type="radio"
              name={id}
              checked={word.toLowerCase() === value}
              onChange={() => visit.put(path, word)}
            />
            <span>{text}</span>
          </label>
        ))}
      </div>
      {odd ? <p class="hint">In the file: {value}</p> : null}
      <Said path={path} id={`${id}-said`} />
    </fieldset>
  );
}

/** A tick that stands for true; without it the place is left out. */
export function Tick({ path, label, value = "true" }: FieldProps & { readonly value?: string }): JSX.Element {
  const { visit } = useHere();
  const written = textAt(visit.written, path).toLowerCase();
  const words = value === "true" ? ["true", "yes", "on"] : ["false", "no", "off"];
  return (
    <label class="tick" data-place={writePath(path)}>
      <input
        type="checkbox"
        checked={words.includes(written)}
        disabled={visit.state.signed}
        onChange={(event) => visit.put(path, event.currentTarget.checked ? value : "")}
      />
      <span>{label}</span>
    </label>
  );
}

interface PickProps extends FieldProps {
  readonly options: readonly (readonly [value: string, label: string])[];
  /** The option that a written word means, when it may be spelled in several ways. */
  readonly means?: (written: string) => string | undefined;
}

export function Pick(props: PickProps): JSX.Element {
  const { path, options, means } = props;
  const id = useId();
  const { visit } = useHere();
  const problems = useProblems(path);
  const written = textAt(visit.written, path);
  const value = means?.(written) ?? written;
  return (
    <Frame {...props} id={id}>
      <select
        id={id}
        value={value}
        data-place={writePath(path)}
        disabled={visit.state.signed}
        aria-describedby={problems.length > 0 ? `${id}-said` : undefined}
        onChange={(event) => visit.put(path, event.currentTarget.value)}
      >
        <option value="">—</option>
        {options.map(([word, label]) => (
          <option key={word} value={word}>
            {label}
          </option>
        ))}
        {value !== "" && !options.some(([word]) => word === value) ? (
          <option value={value}>{written}</option>
        ) : null}
      </select>
    </Frame>
  );
}
