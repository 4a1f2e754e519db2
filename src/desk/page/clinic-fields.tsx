/** Fields of the clinic's set-up, each with what the library says of it. */
import type { ComponentChildren, JSX } from "preact";
import { useId, useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";

interface FieldProps {
  readonly label: string;
  readonly hint?: string;
  readonly value: string;
  readonly write: (text: string) => void;
  readonly problems?: readonly Problem[];
  readonly wide?: boolean;
}

export function Saying({ problems, id }: { readonly problems: readonly Problem[]; readonly id: string }) {
  return problems.length === 0 ? null : (
    <div class="said" id={id}>
      {problems.map(({ id: kind, severity, message, expected }) => (
        <p key={`${kind} ${message}`} class={severity}>
          <span class="mark" aria-hidden="true" />
          <span>
            <span class="unseen">{severity}: </span>
            {message}
            {expected ? ` (${expected})` : ""}
          </span>
        </p>
      ))}
    </div>
  );
}

function Frame({
  id,
  label,
  hint,
  problems = [],
  wide,
  children,
}: Omit<FieldProps, "value" | "write"> & { readonly id: string; readonly children: ComponentChildren }) {
  return (
    <div class={`field${wide ? " wide" : ""}`}>
      <label for={id}>
        {label}
        {hint ? <span class="hint"> {hint}</span> : null}
      </label>
      {children}
      <Saying problems={problems} id={`${id}-said`} />
    </div>
  );
}

export function Line(props: FieldProps & { readonly suggestions?: readonly string[] }): JSX.Element {
  const { value, write, problems = [], suggestions } = props;
  const id = useId();
  return (
    <Frame {...props} id={id}>
      <input
        id={id}
        type="text"
        autocomplete="off"
        value={value}
        list={suggestions ? `${id}-list` : undefined}
        aria-invalid={problems.some(({ severity }) => severity === "error") || undefined}
        aria-describedby={problems.length > 0 ? `${id}-said` : undefined}
        onInput={(event) => write(event.currentTarget.value)}
      />
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
export function Several(
  props: Omit<FieldProps, "value" | "write"> & {
    readonly lines: readonly string[];
    readonly write: (lines: readonly string[]) => void;
  },
): JSX.Element {
  const { lines, write, problems = [] } = props;
  const id = useId();
  const [typed, setTyped] = useState(lines.join("\n"));
  const split = (text: string) =>
    text
      .split("\n")
      .map((line) => line.trim())
      .filter(Boolean);
  const value = split(typed).join("\n") === lines.join("\n") ? typed : lines.join("\n");
  return (
    <Frame {...props} id={id}>
      <textarea
        id={id}
        rows={3}
        value={value}
        aria-describedby={problems.length > 0 ? `${id}-said` : undefined}
        onInput={(event) => {
          setTyped(event.currentTarget.value);
          write(split(event.currentTarget.value));
        }}
      />
    </Frame>
  );
}

export function Ticked({ label, value, write }: Pick<FieldProps, "label" | "value" | "write">): JSX.Element {
  return (
    <label class="tick">
      <input
        type="checkbox"
        checked={/^(?:true|yes|on)$/iu.test(value)}
        onChange={(event) => write(event.currentTarget.checked ? "true" : "false")}
      />
      <span>{label}</span>
    </label>
  );
}
