/* How much of a session is still open, in words. */

(function (worksheet) {
  "use strict";

  function counted(number, noun) {
    return `${number} ${noun}${number === 1 ? "" : "s"}`;
  }

  function ofState(findings, read) {
    const errors = findings.filter(each => each.severity === "error").length;
    const warnings = findings.filter(each => each.severity === "warning").length;
    const open = read.missing.length + read.refused.length;
    const rest = open ? `${counted(open, "field")} missing or not possible` : "complete";
    return `${counted(errors, "error")}, ${counted(warnings, "warning")}; ${rest}.`;
  }

  worksheet.progress = Object.freeze({ counted, ofState });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
