/* What was found, beside the fields and under the bars: complaints, energies and strengths, the sets. */

(function (worksheet) {
  "use strict";

  const { words } = worksheet;
  const { element, tell } = worksheet.told;

  /* A place in the record as it is counted on the page, with the empty bars. */
  function onPage(place, record) {
    const match = /^specimens\.(\d+)(.*)$/.exec(place);
    return match && record.specimens[match[1]] ? `specimens.${record.specimens[match[1]].row}${match[2]}` : place;
  }

  function showBar(card, bar, found, data) {
    const parts = words.ofBar(bar, found, data).map(({ text, strong }) => element(strong ? "b" : "span", "", text));
    card.querySelector(".nb-ws-found").replaceChildren(...parts);
  }

  /* Everything that was found of a record, on the page. Gives the words for those who do not see it. */
  function show(form, read, complaints, found, typing) {
    const { record } = read;
    const data = form.data;
    const findings = words.asProgress(complaints, record);
    tell(form, findings, place => onPage(place, record), typing);
    form.bars.forEach(card => card.querySelector(".nb-ws-found").replaceChildren());
    record.specimens.forEach((bar, index) => {
      showBar(form.bars[bar.row], bar, found && { ...found.bars[index], hammer: found.hammer }, data);
    });
    const part = name => form.element.querySelector(`.nb-ws-${name}`);
    part("hammer").textContent = words.ofHammer(found, data);
    part("basis").textContent = words.ofLosses(found, record);
    const sets = found ? found.sets.map(set => words.ofSet(set, data)) : [];
    const { lines, lead } = words.ofUnbroken(record, found, data);
    const means = sets.map(([mean, rest]) => element("li", "", element("b", "", mean), rest));
    const unbroken = lines.map(each => element("li", "", lead ? element("b", "", each) : each));
    part("sets").replaceChildren(...(lead ? [...unbroken, ...means] : [...means, ...unbroken]));
    const state = worksheet.progress.ofState(findings, read);
    part("count").textContent = state;
    return [...(lead ? lines : []), ...sets.map(parts => parts.join("")), state].join(". ");
  }

  worksheet.results = Object.freeze({ show, onPage });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
