/* What a check of the handbook would say of the free swings of a group. */

(function (worksheet) {
  "use strict";

  const { complaints, addresses } = worksheet.checksDay;
  const { seriesEnergies_J } = worksheet.swingsEvaluation;

  /* Swings of a series that rise as high as the one before, or as the release. */
  function dyingAway({ record: { series }, found, tell }) {
    if (!series || !found) return;
    const [key] = Object.keys(series);
    const lost = seriesEnergies_J(found.hammer, series);
    if (lost[0] < 0) tell("dying-away", `series.${key}.0`, "This rises above the release angle. Read it again.");
    lost.forEach((each, place) => {
      if (!(each <= lost[place - 1])) return;
      const text = "As high as the one before or higher. Was one left out, or the indicator not pushed back?";
      tell("dying-away", `series.${key}.${place}`, text);
    });
  }

  const CHECKS = [
    given => addresses(given, [["group", given.record.group], ["notes", given.record.notes]]),
    worksheet.checksSwings.check,
    dyingAway,
  ];

  /* Every complaint about a record of free swings. */
  function check(read, data, found) {
    return complaints(read, data, found, CHECKS);
  }

  worksheet.swingsChecks = Object.freeze({ check });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
