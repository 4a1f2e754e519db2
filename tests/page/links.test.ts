/** What becomes a link without being written as one. */
import { expect, test } from "vitest";
import { renderHtml } from "../../src/page/html.js";
import { letterOf } from "./read-back.js";

const HEAD =
  '<header class="letterhead"><p>Mill Pond Clinic</p><p>01632 960140<br>desk@millpond.example</p></header>';

test.each([
  ["<p>Call 01632 960140 now.</p>", 'Call <a href="tel:01632960140">01632 960140</a> now.'],
  [
    "<p>Write to letters@tarnsound.example.</p>",
    '<a href="mailto:letters@tarnsound.example">letters@tarnsound.example</a>.',
  ],
  [
    "<p>See https://tarnsound.example/a, please</p>",
    '<a href="https://tarnsound.example/a">https://tarnsound.example/a</a>, please',
  ],
  ["<p>Number 0123 456 789 stays</p>", "Number 0123 456 789 stays"],
  ["<p>Number 101632 960140 stays</p>", "Number 101632 960140 stays"],
  ['<p><a href="tel:1">01632 960140</a></p>', '<a href="tel:1">01632 960140</a>'],
])("%s", (html, expected) => {
  expect(renderHtml(letterOf(HEAD + html))).toContain(expected);
});

test("a number counts as the clinic's only when the letterhead has it", () => {
  expect(renderHtml(letterOf("<p>Call 01632 960140.</p>"))).not.toContain("tel:");
});
