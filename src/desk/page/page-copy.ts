/** The page's own copy of a visit: which entry is which through every change of it, and which site is being recorded. */
import type { KeyPath } from "../../base/yaml-source.js";
import type { Edit } from "../messages.js";
import type { Holder } from "./align.js";
import { apply, listAt, valueAt } from "./apply.js";
import { carryNames, freshName, namedPath, nameSlots, namesOf } from "./identity.js";

export class PageCopy {
  /** By list, the name that its next entry will have. */
  private readonly promised = new Map<string, string>();
  /** Name of the site being recorded; null before there is one. */
  private chosen: string | null = null;

  constructor(private copy: Holder) {
    this.chooseFirst();
  }

  get written(): Holder {
    return this.copy;
  }

  /** Another copy takes its place; wherever that comes from, its entries keep the names they had. */
  replace(next: Holder): void {
    // Most often the server says what the page has shown already.
    if (JSON.stringify(next) === JSON.stringify(this.copy)) return;
    carryNames(this.copy, next);
    this.copy = next;
    this.chooseFirst();
  }

  /** Makes a change; an entry that begins a row has the name that the row was promised. */
  make(edit: Edit): void {
    const depth = edit.path.findIndex(
      (step, i) => typeof step === "number" && step >= listAt(this.copy, edit.path.slice(0, i)).length,
    );
    const list = edit.path.slice(0, Math.max(0, depth));
    const before = namesOf(listAt(this.copy, list));
    const name = depth < 0 || edit.do === "remove" ? undefined : this.nextName(list);
    const next = apply(this.copy, [edit]);
    const made = valueAt(next, list);
    if (name !== undefined && Array.isArray(made)) {
      this.promised.delete(namedPath(this.copy, list));
      nameSlots(made, [...before, name]);
    }
    // Names were carried by the change itself.
    this.copy = next;
    this.chooseFirst();
  }

  /** Index of the site being recorded; -1 when there is none, or when the one that was chosen is gone. */
  get site(): number {
    return this.chosen === null ? -1 : this.sites().indexOf(this.chosen);
  }

  get siteName(): string {
    return this.chosen ?? "";
  }

  chooseSite(index: number): void {
    this.chosen = this.sites()[index] ?? null;
  }

  /** Names of a list's entries, then the name that the next one will have. */
  rowsAt(path: KeyPath): readonly string[] {
    return [...namesOf(listAt(this.copy, path)), this.nextName(path)];
  }

  private sites(): readonly string[] {
    return namesOf(listAt(this.copy, ["sites"]));
  }

  private chooseFirst(): void {
    this.chosen ??= this.sites()[0] ?? null;
  }

  private nextName(path: KeyPath): string {
    const list = namedPath(this.copy, path);
    const name = this.promised.get(list) ?? freshName();
    this.promised.set(list, name);
    return name;
  }
}
