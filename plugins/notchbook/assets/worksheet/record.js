/* What was typed as a record: numbers and texts as the file will hold them, what is missing, what no file may hold. */

(function (worksheet) {
  "use strict";

  const { typed, plain, matches } = worksheet.numbers;

  const MARGIN = /^[\s\u0000-\u001f\u0085]+|[\s\u0000-\u001f\u0085]+$/g;

  /* The key that a place in the record is of: all bars have the same. */
  function placeOfKey(place) {
    return place.replace(/\.[0-9]+\./, ".");
  }

  /* Whether a date is one of the calendar. */
  function isDay(text) {
    const day = new Date(text);
    return !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text) && !text.startsWith("0000");
  }

  /* Reads one field after the other and notes what it meets. */
  class Reader {
    constructor(limits) {
      this.limits = limits;
      this.missing = [];
      this.refused = [];
    }

    refuse(place, rule, text) {
      this.refused.push({ rule, place, text });
    }

    number(text, place, words) {
      const number = typed(text || "", this.limits.longest);
      if (!number) {
        if (words) this.missing.push({ place, words });
        return null;
      }
      const { low, high, unit, above, whole } = this.limits.numbers[placeOfKey(place)];
      const value = number.value;
      if (Number.isNaN(value)) {
        this.refuse(place, "value-type", "No number. Write digits alone, such as 10.02.");
      } else if (whole && !Number.isInteger(value)) {
        this.refuse(place, "value-type", "Swings are counted: write a whole number.");
      } else if (value < low || value > high || (above && value === low)) {
        const least = above ? `more than ${plain(low)}` : plain(low);
        this.refuse(place, "value-range", `Must be ${least} to ${plain(high)}${unit}. Read again.`);
        return { written: number.written, value: NaN };
      }
      return whole ? { written: String(value), value } : number;
    }

    text(text, place, words) {
      const trimmed = (text || "").replace(MARGIN, "");
      const most = this.limits.lengths[placeOfKey(place)];
      if (!trimmed && words) this.missing.push({ place, words });
      if (most && [...trimmed].length > most) this.refuse(place, "value-form", `At most ${most} characters.`);
      return trimmed;
    }
  }

  function freeSwings(reader, fields, reads) {
    const scale = reads === "energy" ? "_indicated_energy_J" : "_rise_deg";
    const swings = {};
    for (const which of ["first", "second", "half_swings", "later"]) {
      const name = which === "half_swings" ? which : which + scale;
      const number = reader.number(fields["free_swings." + which], "free_swings." + name, "");
      if (number) swings[name] = number;
    }
    return Object.keys(swings).length ? swings : null;
  }

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
    const record = { date: reader.text(fields.date, "date", "date") };
    if (record.date && !matches(data.limits.day, record.date)) {
      reader.refuse("date", "value-form", "Write year, month and day, such as 2026-10-06.");
    } else if (record.date && !isDay(record.date)) {
      reader.refuse("date", "date-real", "There is no such day. Write year, month and day, such as 2026-10-06.");
    }
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
