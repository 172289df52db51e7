/* A record as a table for a spreadsheet, which `notchbook record import` reads back: one row a bar, readings and
   computed values, the units in the heads. */

(function (worksheet) {
  "use strict";

  const COLUMNS = [
    "date", "group", "exercise", "rig", "hammer", "material", "batch", "notch", "specimen", "width_mm", "thickness_mm",
    "remaining_width_mm", "rise_angle_deg", "indicated_energy_J", "break", "excluded", "loss_J", "energy_J", "used_pct",
    "strength_kJ_m2", "conditioning_temperature_C", "conditioning_humidity_pct", "conditioning_hours",
    "test_atmosphere_temperature_C", "test_atmosphere_humidity_pct", "first_rise_deg", "second_rise_deg",
    "first_indicated_energy_J", "second_indicated_energy_J", "half_swings", "later_rise_deg",
    "later_indicated_energy_J", "record_notes",
  ];

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

  /* The table of a record, complete or not, with what was found of it; full precision. */
  function write(record, data, found) {
    const about = {
      ...record, ...record.free_swings, exercise: data.exercise, notch: data.specimen.notch, record_notes: record.notes,
    };
    for (const key of ["conditioning", "test_atmosphere"]) {
      for (const [name, value] of Object.entries(record[key])) about[`${key}_${name}`] = value;
    }
    const rows = record.specimens.map((bar, index) => {
      const row = { ...about, ...bar, specimen: bar.id, ...(found ? found.bars[index] : {}) };
      return COLUMNS.map(name => field(row[name])).join(",");
    });
    return [COLUMNS.join(","), ...rows].join("\r\n") + "\r\n";
  }

  worksheet.recordCsv = Object.freeze({ write, COLUMNS });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
