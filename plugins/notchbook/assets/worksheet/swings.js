/* The worksheet of a record of free swings, put together. */

(function (worksheet) {
  "use strict";

  const { swingsRecord, swingsEvaluation, swingsChecks, swingsFiles, swingsResults } = worksheet;

  worksheet.swings = Object.freeze({
    read: swingsRecord.read,
    evaluate: swingsEvaluation.evaluate,
    check: swingsChecks.check,
    yaml: swingsFiles.yaml,
    fileName: swingsFiles.fileName,
    csv: swingsFiles.csv,
    onPage: swingsRecord.onPage,
    show: swingsResults.show,
  });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
