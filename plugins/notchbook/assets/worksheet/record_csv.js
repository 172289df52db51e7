/* A record as a table for a spreadsheet: one row a bar, readings and computed values, the units in the heads. */

(function (worksheet) {
  "use strict";

  const COLUMNS = [
    "date", "group", "exercise", "rig", "hammer", "material", "batch", "notch", "specimen", "width_mm", "thickness_mm",
    "remaining_width_mm", "rise_angle_deg", "indicated_energy_J", "break", "excluded", "loss_J", "energy_J", "used_pct",
    "strength_kJ_m2",
  ];

  /* A text that a spreadsheet would run as a formula is given an apostrophe. */
  function text(value) {
    return /^[=+\-@\t\r\n]/.test(value) ? "'" + value : value;
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
    const about = { ...record, exercise: data.exercise, notch: data.specimen.notch };
    const rows = record.specimens.map((bar, index) => {
      const row = { ...about, ...bar, specimen: bar.id, ...(found ? found.bars[index] : {}) };
      return COLUMNS.map(name => field(row[name])).join(",");
    });
    return [COLUMNS.join(","), ...rows].join("\r\n") + "\r\n";
  }

  worksheet.recordCsv = Object.freeze({ write, COLUMNS });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
