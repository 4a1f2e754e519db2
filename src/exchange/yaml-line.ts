/** Single lines of a hand-written YAML file: values quoted where YAML needs it, comments set in one column. */
import { stringify } from "yaml";

const COMMENT_COLUMN = 36;
const WIDTH = 118;

/** A value on one line: text, number, list or map, quoted where it must be. */
export function inline(value: unknown): string {
  const text = stringify([value], { collectionStyle: "flow", lineWidth: 0, flowCollectionPadding: false });
  return text.trim().replace(/^\[|\]$/gu, "");
}

/** `  key: value   # comment`; an undefined value leaves the key empty. */
export function line(indent: number, key: string, value?: unknown, comment?: string): string {
  const text = `${" ".repeat(indent)}${/^- /u.test(key) ? `- ${inline(key.slice(2))}` : inline(key)}:`;
  return withComment(value === undefined ? text : `${text} ${inline(value)}`, comment);
}

/** A line with its comment in the common column; a long comment goes on in lines of its own before it. */
export function withComment(text: string, comment?: string): string {
  if (!comment) return text;
  const padded = `${text}  `.padEnd(COMMENT_COLUMN);
  if (padded.length + comment.length + 2 <= WIDTH) return `${padded}# ${comment}`;
  const indent = " ".repeat(text.length - text.trimStart().length);
  return [...remark(indent.length, comment), text].join("\n");
}

/** Comment lines of their own, wrapped. */
export function remark(indent: number, text: string): string[] {
  const start = `${" ".repeat(indent)}# `;
  const lines: string[] = [];
  for (const word of text.split(/\s+/u).filter(Boolean)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + word.length + 1 <= WIDTH)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(start + word);
  }
  return lines;
}
