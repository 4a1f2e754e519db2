/** Text from a file name or a visit -> text that cannot steer a terminal. */

/** Control characters and marks that turn the direction of reading become a replacement sign. */
export function plain(text: string): string {
  return text.replace(/[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, "\ufffd");
}
