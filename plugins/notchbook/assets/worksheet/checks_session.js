/* What a check of the handbook would say of the session: day, group and climate; and every complaint about a record. */

(function (worksheet) {
  "use strict";

  const { valueOf, matches } = worksheet.numbers;
  const { allows } = worksheet.checksBars;

  const CLIMATES = [
    ["conditioning", "conditioning", "If it is right, tell staff before you test."],
    ["test_atmosphere", "test-atmosphere", "Read it again."],
  ];

  /* Today where the reader is, as an ISO 8601 date. */
  function today() {
    const now = new Date();
    const two = number => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function day({ record, found, tell }) {
    if (!record.date) return;
    if (record.date > today()) tell("date-future", "date", "This day is still to come. Is the year right?");
    if (!found || found.verification) return;
    const known = found.hammer.verifications;
    const past = known.filter(each => each.valid_until < record.date)
      .reduce((last, each) => (last && last.valid_until >= each.valid_until ? last : each), null);
    let reason = "there is none of this hammer";
    if (past) reason = `the last one was valid until ${past.valid_until}`;
    else if (known.length) reason = `the first one is of ${known[known.length - 1].date}`;
    const text = `No verification of this hammer was in force that day: ${reason}. Check the date, and ask staff.`;
    tell("verification-in-force", "date", text);
  }

  function people({ record, data, tell }) {
    if (!record.group || matches(data.limits.code, record.group)) return;
    tell("people-codes", "group", "Write a code such as G3: capitals and a number, no names.");
  }

  function addresses({ record, data, tell }) {
    const address = new RegExp(data.limits.email, "u");
    const texts = [["group", record.group], ["batch", record.batch], ["notes", record.notes]];
    record.specimens.forEach((bar, index) => {
      texts.push([`specimens.${index}.id`, bar.id], [`specimens.${index}.excluded`, bar.excluded]);
    });
    for (const [place, text] of texts) {
      if (address.test(text)) tell("email-address", place, "No e-mail address: the site is public.");
    }
  }

  function climate({ record, data, tell }) {
    for (const [key, rule, advice] of CLIMATES) {
      for (const [name, asked] of Object.entries(data.method[key])) {
        const value = valueOf(record[key][name]);
        if (Number.isNaN(value) || allows(asked, value, data.limits)) continue;
        tell(rule, `${key}.${name}`, `${data.method.standard} asks for ${asked.text}. ${advice}`);
      }
    }
  }

  /* Every complaint about a record: rule, severity, the keys that lead to the place, and the words. */
  function check(read, data, found) {
    const findings = [];
    const tell = (rule, place, text) => findings.push({ rule, severity: data.rules[rule], place, text });
    const given = { record: read.record, data, found, tell };
    for (const { rule, place, text } of read.refused) tell(rule, place, text);
    for (const each of [day, people, addresses, climate]) each(given);
    worksheet.checksSwings.check(given);
    worksheet.checksBars.check(given);
    worksheet.checksSeries.check(given);
    return findings;
  }

  worksheet.checks = Object.freeze({ check, today });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
