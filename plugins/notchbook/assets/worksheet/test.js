/* The worksheet of a record of bars, put together. */

(function (worksheet) {
  "use strict";

  const { record, evaluation, checks, recordYaml, recordCsv, results } = worksheet;

  worksheet.test = Object.freeze({
    read: record.read,
    evaluate: evaluation.evaluate,
    check: checks.check,
    yaml: recordYaml.write,
    fileName: recordYaml.fileName,
    csv: recordCsv.write,
    onPage: results.onPage,
    show: results.show,
  });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
