/* A record as the YAML file that the handbook reads: keys in the order of its contract, numbers as they were typed. */

(function (worksheet) {
  "use strict";

  const { quoted, scalar, written, mapping, numbers, file, fileName: named } = worksheet.yamlText;

  function specimen(bar) {
    const names = ["width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "indicated_energy_J"];
    return mapping([
      ["id", quoted(bar.id)],
      ...names.map(name => [name, bar[name] && written(bar[name])]),
      ["break", scalar(bar.break)],
      ["excluded", bar.excluded && quoted(bar.excluded)],
    ]);
  }

  /* The file of a complete record. */
  function write(record, data) {
    const { type, notch, direction } = data.specimen;
    return file([
      ["kind", "test"],
      ["date", record.date],
      ["group", scalar(record.group)],
      ["exercise", scalar(data.exercise)],
      ["rig", scalar(record.rig)],
      ["hammer", scalar(record.hammer)],
      ["material", scalar(record.material)],
      ["batch", record.batch && scalar(record.batch)],
      ["specimen", mapping([["type", quoted(type)], ["notch", scalar(notch)], ["direction", scalar(direction)]])],
      ["conditioning", numbers(record.conditioning)],
      ["test_atmosphere", numbers(record.test_atmosphere)],
      ["free_swings", record.free_swings && numbers(record.free_swings)],
      ["specimens", "\n" + record.specimens.map(bar => `  - ${specimen(bar)}`).join("\n")],
      ["notes", record.notes && quoted(record.notes)],
    ]);
  }

  /* Named by day, group, material and exercise. */
  function fileName(record, data, ending) {
    return named([record.date, record.group, record.material, data.exercise], ending);
  }

  worksheet.recordYaml = Object.freeze({ write, fileName });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
