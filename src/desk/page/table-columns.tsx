/** The columns of a table, each with its first cells: where it goes in the visit, in which unit, and what its cells mean. */
import type { JSX } from "preact";
import { useId, useMemo } from "preact/hooks";
import { withCapital } from "../../base/text.js";
import type { ColumnForm, MappingForm } from "../../exchange/mapping-shown.js";
import type { Edit, Given, WordEntry } from "../messages.js";
import { Combo } from "./combo.js";
import { labelOf } from "./labels.js";
import type { Words } from "./use.js";

interface ColumnsProps {
  readonly form: MappingForm;
  readonly words: Words;
  readonly change: (...edits: readonly Edit[]) => void;
}

/** What a place is part of, where the head of its key would not say it. */
const PARTS: Readonly<Record<string, string>> = { send_to: "Recipient", sites: "Place", tests: "Test" };
/** Findings of a table without a column for the place are of the scalp as a whole. */
const WHOLE = "sites[whole scalp]";

export function TableColumns({ form, words, change }: ColumnsProps): JSX.Element {
  const entries = useMemo(() => entriesOf(form, words), [form.places, words]);
  const termOf = useMemo(() => new Map(entries.map(({ id, term }) => [id, term])), [entries]);
  const called = (place: string) => termOf.get(place) ?? termOf.get(place.replace(WHOLE, "site")) ?? place;
  const filled = new Set([...form.columns.map(({ place }) => place), ...Object.keys(form.constants)]);
  const lacking = form.places.filter(
    ({ needed, place }) => needed && /^(?:visit|patient)\./u.test(place) && !filled.has(place),
  );
  const place = (column: ColumnForm, to: string) => {
    const isOfRow =
      to === "site" || form.columns.some((other) => other.place === "site" && other.column !== column.column);
    change(
      { do: "set", path: ["columns", column.column], value: isOfRow ? to : to.replace(/^site\b/u, WHOLE) },
      ...ignoring(form, column.column, false),
      // Once a column names the place, findings belong to it.
      ...(to === "site"
        ? form.columns.filter((other) => other.place.startsWith(WHOLE) && other.column !== column.column)
        : []
      ).map(
        (other): Edit => ({
          do: "set",
          path: ["columns", other.column],
          value: entry(other, { place: other.place.replace(WHOLE, "site") }),
        }),
      ),
    );
  };
  return (
    <>
      <h3>Columns</h3>
      {form.columns.map((column) => (
        <fieldset key={column.column} class="table-column">
          <legend>{column.column}</legend>
          <p class="hint">
            {column.first.length === 0 ? "No cell says anything." : `Such as ${column.first.join(" · ")}`}
          </p>
          <p class={column.place === "" && !column.isIgnored ? "goes open" : "goes"}>
            {column.place !== ""
              ? called(column.place)
              : column.isIgnored
                ? "Left out on purpose"
                : "Not placed yet"}
          </p>
          <Combo
            label={column.place === "" ? "Place in the visit" : "Another place"}
            hint="type a few letters"
            entries={entries.filter(({ id }) => id !== column.place)}
            onTake={({ id }) => {
              place(column, id);
              return "";
            }}
          />
          <p class="acts">
            {column.place !== "" ? (
              <button
                type="button"
                class="plain"
                onClick={() => change({ do: "remove", path: ["columns", column.column] })}
              >
                Take it away
              </button>
            ) : (
              <button
                type="button"
                class="plain"
                onClick={() => change(...ignoring(form, column.column, !column.isIgnored))}
              >
                {column.isIgnored ? "Do not leave it out" : "Leave it out"}
              </button>
            )}
          </p>
          {column.units.length > 1 ? (
            <Select
              label="In"
              value={column.unit || (column.units[0] ?? "")}
              options={column.units}
              choose={(unit) =>
                change({
                  do: "set",
                  path: ["columns", column.column],
                  value: entry(column, { unit: unit === column.units[0] ? "" : unit }),
                })
              }
            />
          ) : null}
          <Meanings column={column} change={change} />
        </fieldset>
      ))}
      {lacking.length > 0 ? (
        <>
          <h3>Needed, and in no column</h3>
          <div class="grid">
            {lacking.map(({ place: needed, path }) => (
              <Constant
                key={needed}
                label={called(needed)}
                options={path === "visit.seen_by" ? words.people.map(({ key }) => key) : []}
                give={(value) => change({ do: "set", path: ["constants", needed], value })}
              />
            ))}
          </div>
        </>
      ) : null}
      <Reading form={form} change={change} />
    </>
  );
}

/** Every place by the words of its label, those of findings by the catalogue. */
function entriesOf({ places }: MappingForm, { findings }: Words): readonly WordEntry[] {
  const keys = places.map(({ place, path }) => {
    const [head = ""] = path.split(".");
    const part = PARTS[head] ?? withCapital(head.replaceAll("_", " "));
    const { label } = labelOf(path);
    return {
      id: place,
      term: head === path ? label : `${part}: ${label}`,
      also: [path.replaceAll(/[._]/gu, " ")],
    };
  });
  const seen = findings.flatMap(({ term, also }) => [
    { id: `site.findings.${term}`, term: `Finding: ${term}`, also },
    { id: `site.findings.${term}.count`, term: `Count: ${term}`, also: [] },
  ]);
  return [...keys, ...seen];
}

/** A column's entry in the mapping, with what changes of it. */
function entry(
  column: ColumnForm,
  changed: {
    readonly place?: string;
    readonly unit?: string;
    readonly means?: Readonly<Record<string, string>>;
  },
): Given {
  const { place = column.place, unit = column.unit } = changed;
  const means = { ...Object.fromEntries(column.cells.map((one) => [one.cell, one.means])), ...changed.means };
  const values = Object.fromEntries(Object.entries(means).filter(([, word]) => word !== ""));
  const hasMeaning = Object.keys(values).length > 0;
  return unit === "" && !hasMeaning
    ? place
    : { to: place, ...(unit === "" ? {} : { unit }), ...(hasMeaning ? { values } : {}) };
}

function ignoring({ ignored }: MappingForm, column: string, isIgnored: boolean): readonly Edit[] {
  if (ignored.includes(column) === isIgnored) return [];
  const value = isIgnored ? [...ignored, column] : ignored.filter((other) => other !== column);
  return [value.length === 0 ? { do: "remove", path: ["ignore"] } : { do: "set", path: ["ignore"], value }];
}

function Meanings({
  column,
  change,
}: {
  readonly column: ColumnForm;
  readonly change: ColumnsProps["change"];
}): JSX.Element | null {
  if (column.cells.length === 0) return null;
  return (
    <div class="grid meanings">
      {column.cells.map(({ cell, means, isOpen }) => {
        const give = (word: string) =>
          change({
            do: "set",
            path: ["columns", column.column],
            value: entry(column, { means: { [cell]: word } }),
          });
        const label = `“${cell}” means`;
        return column.words.length > 0 ? (
          <Select
            key={cell}
            label={label}
            value={means}
            options={["", ...column.words]}
            choose={give}
            isOpen={isOpen}
          />
        ) : (
          <Constant key={cell} label={label} value={means} options={[]} give={give} isOpen={isOpen} />
        );
      })}
    </div>
  );
}

/** How figures and dates of the table are written, where it does not tell by itself. */
function Reading({
  form,
  change,
}: {
  readonly form: MappingForm;
  readonly change: ColumnsProps["change"];
}): JSX.Element {
  const choices = [
    ["dates", "Dates are written", ["", "year-month-day", "day-month-year", "month-day-year"]],
    ["decimal", "Decimal sign", ["", "point", "comma"]],
    ["delimiter", "Between columns", ["", ",", ";", "|", "tab"]],
  ] as const;
  return (
    <details open={Object.keys(form.read).length > 0}>
      <summary>How the table is written</summary>
      <div class="grid">
        {choices.map(([key, label, options]) => (
          <Select
            key={key}
            label={label}
            blank="as found"
            value={form.read[key] ?? ""}
            options={options}
            choose={(value) =>
              change(
                value === ""
                  ? { do: "remove", path: ["read", key] }
                  : { do: "set", path: ["read", key], value },
              )
            }
          />
        ))}
      </div>
    </details>
  );
}

interface SelectProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly string[];
  readonly choose: (value: string) => void;
  readonly blank?: string;
  readonly isOpen?: boolean;
}

function Select({
  label,
  value,
  options,
  choose,
  blank = "not said yet",
  isOpen = false,
}: SelectProps): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        value={value}
        aria-invalid={isOpen || undefined}
        onChange={(event) => choose(event.currentTarget.value)}
      >
        {(options.includes(value) ? options : [value, ...options]).map((word) => (
          <option key={word} value={word}>
            {word === "" ? blank : word}
          </option>
        ))}
      </select>
    </div>
  );
}

interface ConstantProps {
  readonly label: string;
  readonly options: readonly string[];
  readonly give: (value: string) => void;
  readonly value?: string;
  readonly isOpen?: boolean;
}

/** A text that is taken once the field is left, so that the table is not read at every key. */
function Constant({ label, options, give, value = "", isOpen = false }: ConstantProps): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        list={options.length > 0 ? `${id}-list` : undefined}
        value={value}
        aria-invalid={isOpen || undefined}
        onChange={(event) => {
          const text = event.currentTarget.value.trim();
          if (text !== value && text !== "") give(text);
        }}
      />
      {options.length > 0 ? (
        <datalist id={`${id}-list`}>
          {options.map((word) => (
            <option key={word} value={word} />
          ))}
        </datalist>
      ) : null}
    </div>
  );
}
