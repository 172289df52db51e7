/* A record of free swings as the YAML file that the handbook reads, and as the table that `notchbook record import`
   reads back: names with values, and below them the series, a row each. */

(function (worksheet) {
  "use strict";

  const { quoted, scalar, written, mapping, numbers, file, fileName: named } = worksheet.yamlText;
  const { table } = worksheet.csvText;

  const READING = { rises_deg: "rise_angle_deg", indicated_energies_J: "indicated_energy_J" };

  /* The readings of a series, their key, and the half swings between them. */
  function parts(series) {
    const [[key, read], [, between]] = Object.entries(series);
    return { key, read, between };
  }

  function seriesText(series) {
    const { key, read, between } = parts(series);
    return mapping([[key, `[${read.map(written).join(", ")}]`], ["half_swings_between", written(between)]]);
  }

  /* The file of a complete record. */
  function yaml(record, data) {
    return file([
      ["kind", "swings"],
      ["date", record.date],
      ["group", scalar(record.group)],
      ["exercise", scalar(data.exercise)],
      ["rig", scalar(record.rig)],
      ["hammer", scalar(record.hammer)],
      ["free_swings", numbers(record.free_swings)],
      ["series", record.series && seriesText(record.series)],
      ["notes", record.notes && quoted(record.notes)],
    ]);
  }

  /* Named by day, group, exercise, rig and hammer. */
  function fileName(record, data, ending) {
    return named([record.date, record.group, data.exercise, record.rig, record.hammer], ending);
  }

  /* The table of a record, complete or not. */
  function csv(record, data) {
    const { date, group, rig, hammer, free_swings: swings, series, notes } = record;
    const about = { date, group, exercise: data.exercise, rig, hammer, ...swings, notes };
    const rows = Object.entries(about).filter(([, value]) => value);
    if (!series) return table(rows);
    const { key, read, between } = parts(series);
    const half = place => String(1 + place * (between ? between.value : NaN));
    return table([...rows, ["half_swing", READING[key]], ...read.map((each, place) => [half(place), each])]);
  }

  worksheet.swingsFiles = Object.freeze({ yaml, fileName, csv });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
