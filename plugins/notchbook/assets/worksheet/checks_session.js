/* What a check of the handbook would say of the session: day, group, climate, and the bars as a whole. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, valueOf } = worksheet.numbers;
  const { allows } = worksheet.checksBars;

  const CODE = /^[A-Z]{1,6}-?[0-9]{1,4}[a-z]?$/;
  const EMAIL = /[\p{L}\p{N}_.+-]{1,64}@(?:[\p{L}\p{N}_-]{1,63}\.){1,10}\p{L}{2,63}/u;

  /* Today where the reader is, as an ISO 8601 date. */
  function today() {
    const now = new Date();
    const two = number => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function day({ record, found, tell }) {
    if (!record.date) return;
    if (record.date > today()) tell("date-future", "error", "date", "This day is still to come. Is the year right?");
    if (!found || found.verification) return;
    const known = found.hammer.verifications;
    const past = known.find(each => each.date <= record.date);
    let reason = "there is none of this hammer";
    if (past) reason = `the last one was valid until ${past.valid_until}`;
    else if (known.length) reason = `the first one is of ${known[known.length - 1].date}`;
    const text = `No verification of this hammer was in force that day: ${reason}. Check the date, and ask staff.`;
    tell("verification-in-force", "error", "date", text);
  }

  function people({ record, tell }) {
    if (!record.group || CODE.test(record.group)) return;
    tell("people-codes", "error", "group", "Write a code such as G3: capitals and a number, no names.");
  }

  function addresses({ record, tell }) {
    const texts = [["group", record.group], ["batch", record.batch], ["notes", record.notes]];
    record.specimens.forEach((bar, index) => {
      texts.push([`specimens.${index}.id`, bar.id], [`specimens.${index}.excluded`, bar.excluded]);
    });
    for (const [place, text] of texts) {
      if (EMAIL.test(text)) tell("email-address", "error", place, "No e-mail address: the site is public.");
    }
  }

  function climate({ record, data, tell }) {
    for (const [key, rule] of [["conditioning", "conditioning"], ["test_atmosphere", "test-atmosphere"]]) {
      for (const [name, asked] of Object.entries(data.method[key])) {
        const value = valueOf(record[key][name]);
        if (Number.isNaN(value) || allows(asked, value)) continue;
        const what = key === "conditioning" ? "If it is right, tell staff before you test." : "Read it again.";
        tell(rule, "error", `${key}.${name}`, `${data.method.standard} asks for ${asked.text}. ${what}`);
      }
    }
  }

  function number({ record, data, found, tell }) {
    if (!found) return;
    const { number: asked, fewer, below_pct } = data.method.specimen_number;
    const counted = record.specimens.filter(bar => !bar.excluded).length;
    const known = found.bars.some(bar => bar.energy_J !== null);
    if (counted >= asked || (counted >= fewer && !known)) return;
    const variation = found.sets.length ? found.sets[0].variation_pct : null;
    if (counted >= fewer && variation !== null && variation < below_pct) return;
    const spread = variation === null ? "" : `; their variation is ${fixed(variation, 1)} %`;
    tell("specimen-number", "error", "specimens",
      `${counted} ${counted === 1 ? "bar counts" : "bars count"}. ${data.method.standard} asks for ${asked}, or for ` +
      `${fewer} where the coefficient of variation is below ${plain(below_pct)} %${spread}.`);
  }

  function mixedBreaks({ record, data, tell }) {
    const counted = new Map();
    for (const bar of record.specimens) {
      const kind = data.method.breaks[bar.break];
      if (bar.excluded || !kind) continue;
      const key = kind.group.join();
      counted.set(key, [...(counted.get(key) || []), bar.break]);
    }
    if (counted.size < 2) return;
    const words = [...counted.values()].map(letters => `${letters.length} ${[...new Set(letters)].sort().join("/")}`);
    const text = `The bars broke in more than one way (${words.join(", ")}). Each way has its own result.`;
    tell("mixed-breaks", "note", "specimens", text);
  }

  /* Every complaint about a record: rule, severity, the keys that lead to the place, and the words. */
  function check(read, data, found) {
    const findings = [...read.refused];
    const tell = (rule, severity, place, text) => findings.push({ rule, severity, place, text });
    const given = { record: read.record, data, found, tell };
    for (const each of [day, people, addresses, climate]) each(given);
    worksheet.checksSwings.check(given);
    worksheet.checksBars.check(given);
    number(given);
    mixedBreaks(given);
    return findings;
  }

  worksheet.checks = Object.freeze({ check, today });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
