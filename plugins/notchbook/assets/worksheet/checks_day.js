/* What a check of the handbook would say of any session: its day, its group, what a public site must not hold. */

(function (worksheet) {
  "use strict";

  const { matches } = worksheet.numbers;

  /* Today where the reader is, as an ISO 8601 date. */
  function today() {
    const now = new Date();
    const two = number => String(number).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  }

  function future({ record, tell }) {
    if (record.date > today()) tell("date-future", "date", "This day is still to come. Is the year right?");
  }

  function people({ record, data, tell }) {
    if (!record.group || matches(data.limits.code, record.group)) return;
    tell("people-codes", "group", "Write a code such as G3: capitals and a number, no names.");
  }

  /* Texts by their places that hold an e-mail address. */
  function addresses({ data, tell }, texts) {
    const address = new RegExp(data.limits.email, "u");
    for (const [place, text] of texts) {
      if (address.test(text)) tell("email-address", place, "No e-mail address: the site is public.");
    }
  }

  /* Every complaint of some checks about what was read, what no file may hold first: rule, severity, the keys that lead
     to the place, and the words. */
  function complaints(read, data, found, checks) {
    const findings = [];
    const tell = (rule, place, text) => findings.push({ rule, severity: data.rules[rule], place, text });
    for (const { rule, place, text } of read.refused) tell(rule, place, text);
    for (const check of [future, people, ...checks]) check({ record: read.record, data, found, tell });
    return findings;
  }

  worksheet.checksDay = Object.freeze({ today, addresses, complaints });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
