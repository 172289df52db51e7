/* Single entries as the file of a record will hold them: what is missing, and what no file may hold. */

(function (worksheet) {
  "use strict";

  const { typed, plain, matches } = worksheet.numbers;

  const MARGIN = /^[\s\u0000-\u001f\u0085]+|[\s\u0000-\u001f\u0085]+$/g;

  /* The key that a place in the record is of: all bars, and all swings of a series, have the same. */
  function placeOfKey(place) {
    return place.replace(/\.[0-9]+(?=\.|$)/, "");
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

  /* The day of a record, and what is wrong with it. */
  function day(reader, text) {
    const date = reader.text(text, "date", "date");
    if (date && !matches(reader.limits.day, date)) {
      reader.refuse("date", "value-form", "Write year, month and day, such as 2026-10-06.");
    } else if (date && !isDay(date)) {
      reader.refuse("date", "date-real", "There is no such day. Write year, month and day, such as 2026-10-06.");
    }
    return date;
  }

  /* The free swings that were typed, by the keys that they have on the scale of the rig; null without any. */
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

  worksheet.reader = Object.freeze({ MARGIN, Reader, day, freeSwings });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
