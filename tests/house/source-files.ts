/** Every TypeScript file of ours with its room and its imports, for the tests of the house itself. */
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";

export const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const src = join(root, "src");

export interface SourceFile {
  /** Relative to the repository, such as `src/visit/read.ts`. */
  readonly path: string;
  readonly room: string;
  readonly text: string;
  readonly imports: readonly string[];
}

export function sourceFiles(): SourceFile[] {
  return readdirSync(src, { recursive: true, encoding: "utf8" })
    .filter((f) => /\.tsx?$/u.test(f) && !f.endsWith(".d.ts"))
    .sort()
    .map((f) => {
      const text = readFileSync(join(src, f), "utf8");
      return {
        path: join("src", f),
        room: f.includes("/") ? (f.split("/")[0] ?? "") : "",
        text,
        imports: [...text.matchAll(/(?:from|import)\s*\(?\s*"([^"]+)"/gu)].map((m) => m[1] ?? ""),
      };
    });
}

/** The room that a relative import lands in; undefined for a package. */
export function roomOf(file: SourceFile, imported: string): string | undefined {
  if (!imported.startsWith(".")) return undefined;
  const target = relative(src, join(root, dirname(file.path), imported));
  return target.startsWith("..") ? ".." : target.includes("/") ? target.split("/")[0] : "";
}
