/* Fields of a table for a spreadsheet, which runs none of them. */

(function (worksheet) {
  "use strict";

  const FORMULA = /(^|[;\n])(?=(?:['"]|[^\S\n])*[=+@\-＝＋＠－])/g;
  const STEERING = /[\p{C}\p{Zl}\p{Zp}]/gu;
  const COMMAND = /^([^\S\n]*):(?=:)|#(?=#\w{0,40}\[)/gm;
  const LINE_END = "\r\n";

  /* A control or direction character as its code; line ends stay. */
  function visible(character) {
    const known = { "\n": "\n", "\r": "\\r", "\t": "\\t" }[character];
    if (known) return known;
    const code = character.codePointAt(0).toString(16);
    if (code.length <= 2) return "\\x" + code.padStart(2, "0");
    return code.length <= 4 ? "\\u" + code.padStart(4, "0") : "\\U" + code.padStart(8, "0");
  }

  /* A text as the other tables of the handbook have it: an apostrophe before what a spreadsheet would run as a formula,
     at the start and behind a semicolon, and the escape of what steers a terminal or a log. */
  function text(value) {
    const shown = value.split(LINE_END).map(line => line.replace(STEERING, visible)).join(LINE_END);
    return shown.replace(FORMULA, "$1'").replace(COMMAND, (found, before) => found === "#" ? "\\x23" : before + "\\x3a");
  }

  /* A value as a field (RFC 4180); empty where it cannot be had. */
  function field(value) {
    let shown = "";
    if (typeof value === "string") shown = text(value);
    else if (typeof value === "number") shown = String(value);
    else if (value) shown = Number.isNaN(value.value) ? text(value.written) : value.written;
    return /[",\r\n]/.test(shown) ? `"${shown.replace(/"/g, '""')}"` : shown;
  }

  /* A table of rows (RFC 4180). */
  function table(rows) {
    return rows.map(row => row.map(field).join(",") + "\r\n").join("");
  }

  worksheet.csvText = Object.freeze({ table });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
