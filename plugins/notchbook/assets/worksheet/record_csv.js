/* A record as a table for a spreadsheet, which `notchbook record import` reads back: one row a bar, readings and
   computed values, the units in the heads. */

(function (worksheet) {
  "use strict";

  const { table } = worksheet.csvText;

  const COLUMNS = [
    "date", "group", "exercise", "rig", "hammer", "material", "batch", "notch", "specimen", "width_mm", "thickness_mm",
    "remaining_width_mm", "rise_angle_deg", "indicated_energy_J", "break", "excluded", "loss_J", "energy_J", "used_pct",
    "strength_kJ_m2", "conditioning_temperature_C", "conditioning_humidity_pct", "conditioning_hours",
    "test_atmosphere_temperature_C", "test_atmosphere_humidity_pct", "first_rise_deg", "second_rise_deg",
    "first_indicated_energy_J", "second_indicated_energy_J", "half_swings", "later_rise_deg",
    "later_indicated_energy_J", "record_notes",
  ];

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
      return COLUMNS.map(name => row[name]);
    });
    return table([COLUMNS, ...rows]);
  }

  worksheet.recordCsv = Object.freeze({ write, COLUMNS });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
