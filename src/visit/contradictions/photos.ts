/** Photographs of fields that were not counted, named twice, or of a kind that cannot be printed. */
import { type CheckContext, entries } from "../check-context.js";

export function photos({ file, report }: CheckContext): void {
  const first = new Map<string, (string | number)[]>();
  for (const [i, site] of entries(file.sites)) {
    const fields = (site.fields ?? []).length;
    for (const [j, { file: name, field }] of entries(site.photos)) {
      const path = ["sites", i, "photos", j];
      if (field !== undefined && field > fields) {
        report("photo-without-field", [...path, "field"], {
          message: `a photograph of field ${field}, and ${fields === 0 ? "no field is" : `only ${fields} are`} counted`,
        });
      }
      if (name === undefined) continue;
      if (!/\.(?:jpe?g|png)$/iu.test(name)) {
        report("photo-kind", [...path, "file"], {
          message: `${name} is no JPEG or PNG file`,
          expected: ".jpg, .jpeg or .png",
        });
      }
      const earlier = first.get(name.toLowerCase());
      if (!earlier) first.set(name.toLowerCase(), [...path, "file"]);
      else {
        report("photo-twice", [...path, "file"], {
          message: `${name} is named twice`,
          related: [{ message: "first named here", path: earlier }],
        });
      }
    }
  }
}
