/** The engine's classes as they come, to see what the patches replace and to put single members back. */
import type { Engine } from "../../../src/page/pdfmake/engine.js";
import { ENGINE } from "../../../src/page/pdfmake/private.js";

type Members = Map<string, PropertyDescriptor>;

/** Own members of every class's prototype, by `Class.member`. */
function members(engine: Engine): Members {
  const found: Members = new Map();
  for (const [name, { prototype }] of Object.entries(engine) as [string, { prototype: object }][]) {
    for (const [key, descriptor] of Object.entries(Object.getOwnPropertyDescriptors(prototype)))
      found.set(`${name}.${key}`, descriptor);
  }
  return found;
}

const original = members(ENGINE);

/** Names of members that are not as they came. */
export function replaced(): string[] {
  return [...members(ENGINE)].flatMap(([name, { value }]) =>
    original.get(name)?.value === value ? [] : [name],
  );
}

/** Puts the engine's own member back; the returned act undoes it. */
export function putBack(name: string): () => void {
  const [className = "", key = ""] = name.split(".");
  const { prototype } = (ENGINE as unknown as Record<string, { prototype: object }>)[className] ?? {};
  if (!prototype) throw new Error(`no class ${className}`);
  const patched = Object.getOwnPropertyDescriptor(prototype, key);
  const own = original.get(name);
  if (own) Object.defineProperty(prototype, key, own);
  else Reflect.deleteProperty(prototype, key);
  return () => {
    if (patched) Object.defineProperty(prototype, key, patched);
  };
}
