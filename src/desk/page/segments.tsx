/** One of a few, chosen in one touch; a list to open where there are many. */
import type { JSX } from "preact";
import { useId } from "preact/hooks";

const MOST = 8;

interface SegmentsProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, label: string])[];
  readonly choose: (value: string) => void;
  readonly required?: boolean;
}

export function Segments({ label, value, options, choose, required = false }: SegmentsProps): JSX.Element {
  const id = useId();
  if (options.length > MOST)
    return (
      <div class="field">
        <label for={id}>{label}</label>
        <select
          id={id}
          value={value}
          required={required}
          onChange={(event) => choose(event.currentTarget.value)}
        >
          <option value="">choose</option>
          {options.map(([word, text]) => (
            <option key={word} value={word}>
              {text}
            </option>
          ))}
        </select>
      </div>
    );
  return (
    <fieldset class="choice wide">
      <legend>{label}</legend>
      <div class="segments">
        {options.map(([word, text]) => (
          <label key={word}>
            <input
              type="radio"
              name={id}
              required={required}
              checked={word === value}
              onChange={() => choose(word)}
            />
            <span>{text}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
