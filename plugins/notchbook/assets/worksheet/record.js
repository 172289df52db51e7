/* What was typed as a record: numbers and texts as the file will hold them, what is missing, what no file may hold. */

(function (worksheet) {
  "use strict";

  const { MARGIN, Reader, day, freeSwings } = worksheet.reader;

  /* Whether anything but its number was entered for a bar. */
  function isTouched(bar) {
    return Object.keys(bar).some(name => name !== "id" && bar[name].replace(MARGIN, ""));
  }

  function specimen(reader, bar, index, row, data, reads) {
    const place = name => `specimens.${index}.${name}`;
    const id = reader.text(bar.id, place("id"), `bar in row ${row + 1}: its number`);
    const called = id ? `bar ${id}` : `bar in row ${row + 1}`;
    const excluded = reader.text(bar.excluded, place("excluded"), "");
    const found = { row, id };
    found.width_mm = reader.number(bar.width_mm, place("width_mm"), `${called}: width`);
    found.thickness_mm = reader.number(bar.thickness_mm, place("thickness_mm"), `${called}: thickness`);
    if (data.specimen.notch !== "none") {
      const words = `${called}: width under the notch`;
      found.remaining_width_mm = reader.number(bar.remaining_width_mm, place("remaining_width_mm"), words);
    }
    const reading = reads === "energy" ? "indicated_energy_J" : "rise_angle_deg";
    found[reading] = reader.number(bar.reading, place(reading), excluded ? "" : `${called}: reading`);
    found.break = reader.text(bar.break, place("break"), `${called}: break type`);
    found.excluded = excluded;
    return found;
  }

  /* The record of the typed fields and bars; bars of which nothing but the number was entered are left out of it. */
  function read(raw, data) {
    const fields = raw.fields;
    const reader = new Reader(data.limits);
    const record = { date: day(reader, fields.date) };
    record.group = reader.text(fields.group, "group", "group");
    for (const name of ["rig", "hammer", "material"]) record[name] = reader.text(fields[name], name, name);
    record.batch = reader.text(fields.batch, "batch", "");
    const reads = data.rigs[record.rig] ? data.rigs[record.rig].reads : "angle";
    for (const [key, words] of [["conditioning", "conditioning"], ["test_atmosphere", "at the test"]]) {
      record[key] = {};
      for (const [name, what] of [["temperature_C", "temperature"], ["humidity_pct", "humidity"], ["hours", "hours"]]) {
        if (key === "test_atmosphere" && name === "hours") continue;
        record[key][name] = reader.number(fields[`${key}.${name}`], `${key}.${name}`, `${what}, ${words}`);
      }
    }
    record.free_swings = freeSwings(reader, fields, reads);
    record.specimens = [];
    record.untouched = [];
    raw.bars.forEach((bar, row) => {
      if (isTouched(bar)) record.specimens.push(specimen(reader, bar, record.specimens.length, row, data, reads));
      else record.untouched.push(bar.id || String(row + 1));
    });
    if (!record.specimens.length) reader.missing.push({ place: "specimens", words: "at least one bar" });
    record.notes = reader.text(fields.notes, "notes", "");
    return { record, missing: reader.missing, refused: reader.refused };
  }

  worksheet.record = Object.freeze({ read });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
