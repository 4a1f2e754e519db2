import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { roomOf, sourceFiles } from "./source-files.js";

/** One way through the house: a file imports only from its own room and from rooms to the left. Type imports count. */
const ORDER = [
  "base",
  "knowledge",
  "picture",
  "visit",
  "measure",
  "interpret",
  "diagram",
  "letter",
  "page",
  "exchange",
  "files",
  "clinic-folder",
  "register",
  "due",
  "batch",
];
/** The faces of the house: each may use every room; the command line also starts the desk, and never the other way. */
const FACES = ["cli", "desk"];

/** May touch disk, clock, environment or chance, and why. */
const MAY_TOUCH: Record<string, string> = {
  "src/base/root.ts": "finds the package folder",
  "src/base/built.ts": "reads what the build left, and looks at the files it came from",
  "src/knowledge/load.ts": "reads the knowledge folder",
  "src/knowledge/compile.ts": "writes the compiled knowledge at build time",
  "src/visit/read.ts": "reads the visit file",
  "src/visit/clinic.ts": "reads the clinic file",
  "src/visit/beside-photo.ts": "reads marks and photos beside a visit",
  "src/letter/pack.ts": "reads templates and words",
  "src/page/type/fonts.ts": "reads font files",
  "src/page/typefaces.ts": "reads the folder of a clinic's own typefaces",
  "src/page/drawing/pixels.ts": "loads the drawing engine and its fonts",
  "src/page/drawing/jpeg.ts": "loads the codec of photos",
};
const TOUCHING_ROOMS = ["files", "clinic-folder", "register", "batch", "cli", "desk"];
const TOUCH =
  /"node:(?:fs|fs\/promises|os|child_process|worker_threads)"|Date\.now|new Date\(\)|Math\.random|process\.(?!stdout\.columns)/u;

/** Tables of drawings and of problems, long because there are many of them. */
const TABLES = /^src\/(?:diagram\/(?:pictograms|head)\/|base\/problem-table\.ts$)/u;

const files = sourceFiles();

function allowed(room: string): string[] {
  if (room === "") return [...ORDER, ...FACES, ""];
  if (room === "cli") return [...ORDER, ...FACES];
  if (FACES.includes(room)) return [...ORDER, room];
  return ORDER.slice(0, ORDER.indexOf(room) + 1);
}

/** The file of ours that a relative import names. */
function fileOf(from: string, imported: string, paths: ReadonlySet<string>): string | undefined {
  if (!imported.startsWith(".")) return undefined;
  const path = join(dirname(from), imported).replace(/\.js$/u, "");
  return [`${path}.ts`, `${path}.tsx`].find((file) => paths.has(file));
}

describe("rooms", () => {
  it("are all known", () => {
    expect(
      [...new Set(files.map((f) => f.room))].filter(
        (r) => r !== "" && !ORDER.includes(r) && !FACES.includes(r),
      ),
    ).toEqual([]);
  });

  it("import one way only", () => {
    const wrong = files.flatMap((f) =>
      f.imports.flatMap((imported) => {
        const room = roomOf(f, imported);
        return room === undefined || allowed(f.room).includes(room)
          ? []
          : [`${f.path} imports ${imported}: ${f.room} may use ${allowed(f.room).join(", ")}`];
      }),
    );
    expect(wrong).toEqual([]);
  });

  it("hold no circles: no file imports, through others, itself", () => {
    const paths = new Set(files.map((f) => f.path));
    const importsOf = new Map(
      files.map((f) => [f.path, f.imports.flatMap((i) => fileOf(f.path, i, paths) ?? [])] as const),
    );
    const done = new Set<string>();
    const circleFrom = (path: string, way: readonly string[]): string[] => {
      if (way.includes(path)) return [[...way.slice(way.indexOf(path)), path].join(" -> ")];
      if (done.has(path)) return [];
      const found = (importsOf.get(path) ?? []).flatMap((next) => circleFrom(next, [...way, path]));
      done.add(path);
      return found;
    };
    expect(files.flatMap((f) => circleFrom(f.path, []))).toEqual([]);
  });

  it("touch disk, clock, environment and chance only at the edges", () => {
    const wrong = files
      .filter((f) => !TOUCHING_ROOMS.includes(f.room) && !MAY_TOUCH[f.path] && TOUCH.test(f.text))
      .map((f) => `${f.path}: ${TOUCH.exec(f.text)?.[0]}`);
    expect(wrong).toEqual([]);
  });

  it("write only in files, and at build time", () => {
    const writers = /\b(?:writeFileSync|writeFile|writeSync|renameSync|createWriteStream|appendFileSync)\(/u;
    const wrong = files
      .filter((f) => f.room !== "files" && f.path !== "src/knowledge/compile.ts" && writers.test(f.text))
      .map((f) => f.path);
    expect(wrong).toEqual([]);
  });
});

describe("files", () => {
  it("keep to a readable size: median under 120 lines, none over 400", () => {
    const sizes = files
      .filter((f) => !TABLES.test(f.path))
      .map((f) => ({ path: f.path, lines: f.text.split("\n").length }))
      .sort((a, b) => b.lines - a.lines);
    const largest = sizes.slice(0, 5).map((s) => `${s.lines} ${s.path}`);
    expect(sizes[0]?.lines, largest.join("\n")).toBeLessThanOrEqual(400);
    expect(sizes[Math.floor(sizes.length / 2)]?.lines, largest.join("\n")).toBeLessThan(120);
  });

  it("hold no unfinished marks and no loosened types", () => {
    const marks = /\b(?:TODO|FIXME|XXX)\b|@ts-ignore|@ts-expect-error|\bas any\b|<any>/u;
    expect(
      files.filter((f) => marks.test(f.text)).map((f) => `${f.path}: ${marks.exec(f.text)?.[0]}`),
    ).toEqual([]);
  });

  it("open by saying what they are for", () => {
    expect(files.filter((f) => !/^(?:#!.*\n)?\/\*\*/u.test(f.text)).map((f) => f.path)).toEqual([]);
  });
});
