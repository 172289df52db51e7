/* What was found of free swings, beside the fields and under them. */

(function (worksheet) {
  "use strict";

  const { plain } = worksheet.numbers;
  const { rowsOf, basis } = worksheet.swingsWords;
  const { element, tell } = worksheet.told;

  /* Everything that was found of a record, on the page. Gives the words for those who do not see it. */
  function show(form, read, findings, found, typing) {
    tell(form, findings, worksheet.swingsRecord.onPage, typing);
    const part = name => form.element.querySelector(`.nb-ws-${name}`);
    part("hammer").textContent = found ? `Released at ${plain(found.hammer.release_deg)}°.` : "";
    part("basis").textContent = basis(found, read.record);
    const rows = found ? rowsOf(found) : [];
    part("sets").replaceChildren(...rows.map(({ title, value, sure, beside }) =>
      element("li", "", `${title}: `, element("b", "", value), [sure && ` ${sure}`, beside && `; ${beside}`].join(""))));
    const state = worksheet.progress.ofState(findings, read);
    part("count").textContent = state;
    return [...rows.map(({ title, value }) => `${title}: ${value}`), state].join(". ");
  }

  worksheet.swingsResults = Object.freeze({ show });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
