/** A field that completes words while they are typed: arrows choose, Enter takes, Escape leaves. */
import type { JSX, RefObject, TargetedKeyboardEvent } from "preact";
import { useId, useState } from "preact/hooks";
import type { WordEntry } from "../messages.js";
import { type Match, matches } from "./match.js";

interface ComboProps<T extends WordEntry> {
  readonly label: string;
  readonly hint?: string;
  readonly entries: readonly T[];
  readonly picture?: (entry: T) => string;
  /** Takes the typed text; returns the part to look up, such as without an amount at its end. */
  readonly lookUp?: (typed: string) => string;
  /** Told of every keystroke; returns true when it made use of the text, which is then cleared. */
  readonly onTyped?: (typed: string) => boolean;
  /** Takes an entry; what it returns stays in the field. */
  readonly onTake: (entry: T, typed: string) => string;
  readonly input?: RefObject<HTMLInputElement | null>;
  readonly place?: string;
  readonly disabled?: boolean;
}

export function Combo<T extends WordEntry>(props: ComboProps<T>): JSX.Element {
  const { label, hint, entries, picture, lookUp = (t) => t, onTyped, onTake, input, place, disabled } = props;
  const id = useId();
  const [typed, setTyped] = useState("");
  const [chosen, setChosen] = useState(0);
  const [shut, setShut] = useState(false);
  const found = shut ? [] : matches(lookUp(typed), entries);
  const active = Math.min(chosen, found.length - 1);
  const take = (index: number) => {
    const match = found[index];
    if (!match) return;
    setTyped(onTake(match.entry, typed));
    setChosen(0);
    setShut(true);
  };
  const onKeyDown = (event: TargetedKeyboardEvent<HTMLInputElement>) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      if (found.length === 0) return;
      setChosen((active + (event.key === "ArrowDown" ? 1 : found.length - 1)) % found.length);
    } else if (event.key === "Enter") {
      if (found.length === 0) return;
      take(active);
    } else if (event.key === "Escape" && typed !== "") {
      setTyped("");
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div class="combo">
      <label for={id}>
        {label}
        {hint ? <span class="hint"> {hint}</span> : null}
      </label>
      <input
        {...(input ? { ref: input } : {})}
        id={id}
        type="text"
        role="combobox"
        autocomplete="off"
        spellcheck={false}
        value={typed}
        disabled={disabled}
        data-place={place}
        aria-expanded={found.length > 0}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={found.length > 0 ? `${id}-${active}` : undefined}
        onInput={(event) => {
          const text = event.currentTarget.value;
          const used = onTyped?.(text) ?? false;
          setTyped(used ? "" : text);
          setChosen(0);
          setShut(used);
        }}
        onKeyDown={onKeyDown}
        onBlur={() => setShut(true)}
      />
      <Choices {...{ id, label, found, active, take, picture }} />
    </div>
  );
}

interface ChoicesProps<T extends WordEntry> {
  /** Of the field that they belong to. */
  readonly id: string;
  readonly label: string;
  readonly found: readonly Match<T>[];
  readonly active: number;
  readonly take: (index: number) => void;
  readonly picture: ((entry: T) => string) | undefined;
}

/** The entries that what is typed may mean. */
export function Choices<T extends WordEntry>(props: ChoicesProps<T>): JSX.Element {
  const { id, label, found, active, take, picture } = props;
  return (
    <div id={`${id}-list`} role="listbox" aria-label={label} hidden={found.length === 0}>
      {found.map(({ entry, by }, i) => (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the field above moves through the list by key
        <div
          key={entry.id}
          id={`${id}-${i}`}
          role="option"
          aria-selected={i === active}
          tabIndex={-1}
          onMouseDown={(event) => event.preventDefault()}
          onClick={() => take(i)}
        >
          {picture ? <img src={picture(entry)} alt="" width={26} height={26} /> : null}
          <span>{entry.term}</span>
          {by ? <span class="hint">{by}</span> : null}
        </div>
      ))}
    </div>
  );
}

/** An SVG text as an address that an image can show. */
export function imageOf(svg: string): string {
  const made = images.get(svg) ?? `data:image/svg+xml,${encodeURIComponent(svg)}`;
  images.set(svg, made);
  return made;
}

const images = new Map<string, string>();
