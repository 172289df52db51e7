/* What was typed of free swings as a record: first, second and later swings, and a series that dies away. */

(function (worksheet) {
  "use strict";

  const { MARGIN, Reader, day, freeSwings } = worksheet.reader;

  /* The readings up to the last that was typed, and how many half swings lie between them; null without any. */
  function series(reader, fields, rows, reads) {
    const last = rows.map(row => Boolean(row.reading.replace(MARGIN, ""))).lastIndexOf(true);
    if (last < 0) return null;
    const key = reads === "energy" ? "indicated_energies_J" : "rises_deg";
    const read = rows.slice(0, last + 1).map((row, place) =>
      reader.number(row.reading, `series.${key}.${place}`, `reading ${place + 1} of the series`));
    if (!last) reader.missing.push({ place: `series.${key}.1`, words: "a second reading of the series" });
    const words = "half swings between two readings of the series";
    const between = reader.number(fields["series.half_swings_between"], "series.half_swings_between", words);
    return { [key]: read, half_swings_between: between };
  }

  /* The record of the typed fields and rows. */
  function read(raw, data) {
    const { fields } = raw;
    const reader = new Reader(data.limits);
    const record = { date: day(reader, fields.date) };
    for (const name of ["group", "rig", "hammer"]) record[name] = reader.text(fields[name], name, name);
    const reads = data.rigs[record.rig] ? data.rigs[record.rig].reads : "angle";
    record.free_swings = freeSwings(reader, fields, reads);
    if (!record.free_swings && !reader.refused.some(({ place }) => place.startsWith("free_swings."))) {
      reader.missing.push({ place: "free_swings.first", words: "the free swings" });
    }
    record.series = series(reader, fields, raw.bars, reads);
    record.notes = reader.text(fields.notes, "notes", "");
    record.untouched = [];
    return { record, missing: reader.missing, refused: reader.refused };
  }

  /* A place in the record as the fields of the page are named. */
  function onPage(place) {
    return place.replace(/^series\.[a-z]+_(?:deg|J)\.([0-9]+)$/, "series.$1.reading");
  }

  worksheet.swingsRecord = Object.freeze({ read, onPage });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
