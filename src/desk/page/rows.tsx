/** Rows of a list, the last of them always empty and waiting: typing in it makes the entry. */
import type { ComponentChildren, JSX } from "preact";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import { listAt } from "./apply.js";
import { useHere } from "./use.js";

interface RowProps {
  readonly path: KeyPath;
  /** Such as `test 2`. */
  readonly name: string;
  readonly isNew: boolean;
  readonly children: ComponentChildren;
}

export function Row({ path, name, isNew, children }: RowProps): JSX.Element {
  const { visit } = useHere();
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would break the grid of the row
    <div
      class={`entry${isNew ? " new" : ""}`}
      role="group"
      aria-label={isNew ? `new ${name}` : name}
      data-place={writePath(path)}
    >
      {children}
      {isNew || visit.state.signed ? null : (
        <button type="button" class="drop" aria-label={`Remove ${name}`} onClick={() => visit.remove(path)}>
          <span aria-hidden="true">×</span>
        </button>
      )}
    </div>
  );
}

interface RowsProps {
  readonly path: KeyPath;
  readonly name: string;
  readonly render: (path: KeyPath, index: number, isNew: boolean) => ComponentChildren;
}

export function Rows({ path, name, render }: RowsProps): JSX.Element {
  const { visit } = useHere();
  const count = listAt(visit.written, path).length;
  const names = visit.rowsAt(path);
  const shown = visit.state.signed ? count : count + 1;
  return (
    <div class="entries" data-place={writePath(path)}>
      {Array.from({ length: shown }, (_, i) => (
        <Row key={names[i]} path={[...path, i]} name={`${name} ${i + 1}`} isNew={i === count}>
          {render([...path, i], i, i === count)}
        </Row>
      ))}
      {shown === 0 ? <p class="hint">None.</p> : null}
    </div>
  );
}
