/** Typst inside this process as a contestant, where its package is found; the package is never a dependency of ours. */
import { createRequire } from "node:module";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { Contestant } from "./contest.js";
import { facesFolder } from "./faces.js";
import { typstSource } from "./typst-source.js";
import { TEMPLATE, TEMPLATE_PATH } from "./typst-template.js";

const PACKAGE = "@myriaddreamin/typst-ts-node-compiler";

export const TYPESETTER_MISSING = `not installed (npm i --no-save ${PACKAGE}, or name the folder with its node_modules in TYPST_FOLDER)`;

interface Result {
  readonly result: object | null;
  takeError(): object | null;
}

interface Compiler {
  mapShadow(path: string, content: Buffer): void;
  unmapShadow(path: string): void;
  compile(options: { mainFileContent: string }): Result;
  fetchDiagnostics(error: object): unknown[];
  pdf(document: object): Buffer;
  evictCache(age: number): void;
}

interface Typst {
  readonly NodeCompiler: {
    create(options: { workspace: string; fontArgs: { fontPaths: string[] }[] }): Compiler;
  };
}

async function find(): Promise<Typst | undefined> {
  const folder = process.env.TYPST_FOLDER;
  try {
    const name = folder
      ? pathToFileURL(createRequire(join(folder, "node_modules", "_.js")).resolve(PACKAGE)).href
      : PACKAGE;
    return (await import(name)) as Typst;
  } catch {
    return undefined;
  }
}

/** As its authors advise for work that is not watched. */
const CACHE_AGE = 10;

/** Kept warm: one compiler, the template read once, every letter another source. Undefined when the package is not there. */
export async function typesetter(scratch: string): Promise<Contestant | undefined> {
  const typst = await find();
  if (!typst) return undefined;
  const compiler = typst.NodeCompiler.create({
    workspace: scratch,
    fontArgs: [{ fontPaths: [facesFolder(scratch)] }],
  });
  compiler.mapShadow(join(scratch, TEMPLATE_PATH), Buffer.from(TEMPLATE));
  return {
    what: "Typst in this process kept warm, the same content as Typst source, tagged",
    prepare: async (letter, key) => {
      const { source, files } = typstSource(letter, `/${key}`);
      const photos = [...files].map(([path, bytes]) => [join(scratch, path), Buffer.from(bytes)] as const);
      return async () => {
        for (const [path, bytes] of photos) compiler.mapShadow(path, bytes);
        const compiled = compiler.compile({ mainFileContent: source });
        if (!compiled.result) {
          const error = compiled.takeError();
          throw new Error(`Typst: ${JSON.stringify(error && compiler.fetchDiagnostics(error))}`);
        }
        const bytes = compiler.pdf(compiled.result);
        for (const [path] of photos) compiler.unmapShadow(path);
        compiler.evictCache(CACHE_AGE);
        return bytes;
      };
    },
  };
}
