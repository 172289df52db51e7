/* What a check of the handbook would say of the session: verification and climate; and every complaint about a record. */

(function (worksheet) {
  "use strict";

  const { valueOf } = worksheet.numbers;
  const { complaints } = worksheet.checksDay;
  const { allows } = worksheet.checksBars;

  const CLIMATES = [
    ["conditioning", "conditioning", "If it is right, tell staff before you test."],
    ["test_atmosphere", "test-atmosphere", "Read it again."],
  ];

  function verified({ record, found, tell }) {
    if (!record.date) return;
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

  function addresses(given) {
    const { record } = given;
    const texts = [["group", record.group], ["batch", record.batch], ["notes", record.notes]];
    record.specimens.forEach((bar, index) => {
      texts.push([`specimens.${index}.id`, bar.id], [`specimens.${index}.excluded`, bar.excluded]);
    });
    worksheet.checksDay.addresses(given, texts);
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

  const CHECKS = [
    verified, addresses, climate,
    worksheet.checksSwings.check, worksheet.checksBars.check, worksheet.checksSeries.check,
  ];

  /* Every complaint about a record of bars. */
  function check(read, data, found) {
    return complaints(read, data, found, CHECKS);
  }

  worksheet.checks = Object.freeze({ check });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
