/** Wraps text to the terminal, at most 100 columns, with a hanging indent; colour codes do not count as width. */
import { stripVTControlCharacters } from "node:util";

export function wrap(
  text: string,
  indent = 0,
  columns: number = Math.min(process.stdout.columns || 100, 100),
): string {
  const pad = " ".repeat(indent);
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/ +/u)) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (stripVTControlCharacters(longer).length + indent > columns && line !== "") {
      lines.push(pad + line);
      line = `  ${word}`;
    } else line = longer;
  }
  lines.push(pad + line);
  return lines.join("\n");
}
