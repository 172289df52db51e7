/* What was typed as a record: numbers and texts as the file will hold them, what is missing, what no file may hold. */

(function (worksheet) {
  "use strict";

  const { typed, plain } = worksheet.numbers;

  /* What the schema of a test record lets through: least and greatest value, unit, whether the least is excluded. */
  const LIMITS = Object.freeze({
    width_mm: [0, 10000, "mm", true],
    thickness_mm: [0, 10000, "mm", true],
    remaining_width_mm: [0, 10000, "mm", true],
    rise_angle_deg: [0, 180, "°", false],
    indicated_energy_J: [0, 100000, "J", false],
    temperature_C: [-273.15, 1000, "°C", false],
    humidity_pct: [0, 100, "%", false],
    hours: [0, 1000000, "h", false],
    first_rise_deg: [0, 180, "°", false],
    second_rise_deg: [0, 180, "°", false],
    later_rise_deg: [0, 180, "°", false],
    first_indicated_energy_J: [0, 100000, "J", false],
    second_indicated_energy_J: [0, 100000, "J", false],
    later_indicated_energy_J: [0, 100000, "J", false],
    half_swings: [1, 10000, "", false],
  });
  /* Most characters of a text. */
  const LENGTHS = Object.freeze({ group: 40, batch: 200, notes: 10000, id: 40, excluded: 10000 });
  const DAY = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/;
  const MARGIN = /^[\s\u0000-\u001f\u0085]+|[\s\u0000-\u001f\u0085]+$/g;

  /* Reads one field after the other and notes what it meets. */
  class Reader {
    constructor() {
      this.missing = [];
      this.refused = [];
    }

    refuse(place, rule, text) {
      this.refused.push({ rule, severity: "error", place, text });
    }

    number(text, place, words) {
      const name = place.slice(place.lastIndexOf(".") + 1);
      const number = typed(text || "");
      if (!number) {
        if (words) this.missing.push({ place, words });
        return null;
      }
      const [low, high, unit, above] = LIMITS[name];
      const value = number.value;
      const gap = unit && unit !== "°" ? " " : "";
      if (Number.isNaN(value)) {
        this.refuse(place, "value-type", "No number. Write digits alone, such as 10.02.");
      } else if (name === "half_swings" && !Number.isInteger(value)) {
        this.refuse(place, "value-type", "Swings are counted: write a whole number.");
      } else if (value < low || value > high || (above && value === low)) {
        const least = above ? `more than ${plain(low)}` : plain(low);
        this.refuse(place, "value-range", `Must be ${least} to ${plain(high)}${gap}${unit}. Read again.`);
        return { written: number.written, value: NaN };
      }
      return name === "half_swings" ? { written: String(value), value } : number;
    }

    text(text, place, words) {
      const trimmed = (text || "").replace(MARGIN, "");
      const most = LENGTHS[place.slice(place.lastIndexOf(".") + 1)];
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
    const reader = new Reader();
    const record = { date: reader.text(fields.date, "date", "date") };
    if (record.date && !DAY.test(record.date)) reader.refuse("date", "value-form", "Write year, month, day.");
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

  worksheet.record = Object.freeze({ read, LIMITS, LENGTHS });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
