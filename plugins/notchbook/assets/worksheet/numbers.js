/* Numbers as they are typed and as they are shown.

   Browsers refuse modules of a page that was opened from a disk. So every file of the worksheet is a script of its own
   that adds one frozen object to globalThis.notchbookWorksheet; the page names them in the order in which they need
   each other. */

(function (worksheet) {
  "use strict";

  const TYPED = /^[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)$/;

  /* A typed number: what will stand in the file and its value, NaN where it is no number or has more characters than
     the longest; null for an empty field. A decimal comma is taken for a point; no digit is added or taken away but
     zeros in front. */
  function typed(text, longest) {
    const plain = text.trim().replace(/\u2212/g, "-").replace(",", ".");
    if (!plain) return null;
    if (plain.length > longest || !TYPED.test(plain)) return { written: plain, value: NaN };
    const sign = plain.startsWith("-") ? "-" : "";
    const digits = plain.replace(/^[+-]/, "").replace(/^0+(?=[0-9])/, "").replace(/^\./, "0.").replace(/\.$/, "");
    return { written: sign + digits, value: Number(sign + digits) };
  }

  /* The value of a typed number, NaN where there is none. */
  function valueOf(number) {
    return number ? number.value : NaN;
  }

  function realMinus(text) {
    return text.replace("-", "\u2212");
  }

  /* A number as a person would write it, to six significant digits. */
  function plain(value) {
    return realMinus(String(Number(value.toPrecision(6))));
  }

  function fixed(value, decimals) {
    const text = value.toFixed(decimals);
    return realMinus(Number(text) === 0 ? text.replace("-", "") : text);
  }

  /* A number to so many significant figures, zeros at its end kept, never in exponent form. */
  function significant(value, figures) {
    if (value === 0) return fixed(0, figures - 1);
    const rounded = Number(value.toPrecision(figures));
    const decimals = figures - 1 - Math.floor(Math.log10(Math.abs(rounded)));
    return fixed(rounded, Math.max(decimals, 0));
  }

  /* Both ends of an interval with the same decimals: those of half its width to two significant figures. */
  function intervalEnds(low, high) {
    const half = (high - low) / 2;
    if (!half) return [low, high].map(each => significant(each, 3));
    const decimals = (significant(half, 2).split(".")[1] || "").length;
    return [low, high].map(each => fixed(each, decimals));
  }

  /* The value, or null where it is not a number or larger than anything known: then it cannot be had. */
  function known(value, largest) {
    return Math.abs(value) <= largest ? value : null;
  }

  /* Whether a departure is more than is allowed, the limit itself and the last bit of a binary fraction being allowed. */
  function tooFar(off, allowed, lastBit) {
    return Math.abs(off) > allowed + lastBit * Math.max(1, allowed);
  }

  /* A pattern of the engine, of a whole text. */
  function matches(pattern, text) {
    return new RegExp(`^(?:${pattern})$`, "u").test(text);
  }

  worksheet.numbers = Object.freeze({ typed, valueOf, plain, fixed, significant, intervalEnds, known, tooFar, matches });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
