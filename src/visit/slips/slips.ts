/** All slips, in the order in which they are tried: the first that recognises the case speaks. */
import { amountAsNumber } from "./amount-as-number.js";
import { amountAsYes } from "./amount-as-yes.js";
import { commaInBrackets } from "./comma-in-brackets.js";
import { curlyQuoted } from "./curly-quoted.js";
import { dateOrder } from "./date-order.js";
import { dateWords } from "./date-words.js";
import { decimalComma } from "./decimal-comma.js";
import { misplacedFinding } from "./misplaced-finding.js";
import { misplacedKey } from "./misplaced-key.js";
import { numberWords } from "./number-words.js";
import { otherWord } from "./other-word.js";
import { phototypeFigure } from "./phototype-figure.js";
import type { KeySlip, ValueSlip } from "./slip.js";
import { unitInKey } from "./unit-in-key.js";
import { unitInValue } from "./unit-in-value.js";
import { valueForGroup } from "./value-for-group.js";

export const valueSlips: readonly ValueSlip[] = [
  curlyQuoted,
  dateOrder,
  dateWords,
  decimalComma,
  numberWords,
  unitInValue,
  amountAsNumber,
  amountAsYes,
  phototypeFigure,
  otherWord,
  valueForGroup,
];

export const keySlips: readonly KeySlip[] = [commaInBrackets, unitInKey, misplacedFinding, misplacedKey];
