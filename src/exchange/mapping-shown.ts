/** What a form shows of a table and its mapping: plain data, for a page too. */

export interface MappedPlace {
  /** As a mapping names it: `send_to[0].name`, `site.patch.length_mm`. */
  readonly place: string;
  /** Its key in the table of keys. */
  readonly path: string;
  readonly says: string;
  readonly needed: boolean;
}

export interface ColumnForm {
  readonly column: string;
  /** Its first different cells. */
  readonly first: readonly string[];
  /** As the mapping names it; empty where it has none. */
  readonly place: string;
  readonly isIgnored: boolean;
  /** As the mapping names it; empty for the file's own. */
  readonly unit: string;
  /** The file's own unit first; empty where there is no choice. */
  readonly units: readonly string[];
  /** Words that the place takes, where they are a closed list. */
  readonly words: readonly string[];
  /** Cells that the place does not take as they are, or that the mapping gives a meaning. */
  readonly cells: readonly { readonly cell: string; readonly means: string; readonly isOpen: boolean }[];
}

export interface MappingForm {
  readonly columns: readonly ColumnForm[];
  readonly ignored: readonly string[];
  /** What every visit of the table says, by place. */
  readonly constants: Readonly<Record<string, string>>;
  /** How the table is read, as far as the mapping says so. */
  readonly read: Readonly<Record<string, string>>;
  readonly places: readonly MappedPlace[];
}
