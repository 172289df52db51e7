/* What was found, beside the fields and under the bars: complaints, energies and strengths, the sets. */

(function (worksheet) {
  "use strict";

  const { words } = worksheet;
  const { fieldKey } = worksheet.form;

  // colour is never the only sign of how grave a complaint is
  const GRAVITY = { error: "Error", warning: "Warning", note: "Note", sofar: "So far" };

  function element(tag, className, ...parts) {
    const made = document.createElement(tag);
    made.className = className;
    made.append(...parts);
    return made;
  }

  /* The field on the page that a place in the record belongs to; bars are counted on the page with the empty ones. */
  function onPage(place, record) {
    const match = /^specimens\.(\d+)(.*)$/.exec(place);
    const row = match && record.specimens[match[1]] ? record.specimens[match[1]].row : null;
    const here = row === null ? place : `specimens.${row}${match[2]}`;
    return `nb-ws-${fieldKey(here).replace(/[._]/g, "-")}`;
  }

  /* Shows every complaint under its field. A new one waits while its field is being typed in: half a number is most
     often wrong, and a line that comes and goes at every digit helps nobody. */
  function tell(form, findings, record, typing) {
    const byField = new Map();
    for (const finding of findings) {
      const id = onPage(finding.place, record);
      byField.set(id, [...(byField.get(id) || []), finding]);
    }
    for (const told of form.element.querySelectorAll(".nb-ws-told")) {
      const id = told.id.slice(0, -"-told".length);
      const control = document.getElementById(id);
      const held = byField.get(id) || [];
      if (typing && control === typing && told.hidden) continue;
      told.hidden = !held.length;
      told.replaceChildren(...held.map(each =>
        element("span", `nb-${each.severity}`, element("b", "", `${GRAVITY[each.severity]}: `), each.text)));
      if (!control) continue;
      control.removeAttribute("aria-describedby");
      if (held.length) control.setAttribute("aria-describedby", told.id);
      control.setAttribute("aria-invalid", String(held.some(each => each.severity === "error")));
    }
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
    tell(form, findings, record, typing);
    form.bars.forEach(card => card.querySelector(".nb-ws-found").replaceChildren());
    record.specimens.forEach((bar, index) => {
      showBar(form.bars[bar.row], bar, found && { ...found.bars[index], hammer: found.hammer }, data);
    });
    const part = name => form.element.querySelector(`.nb-ws-${name}`);
    part("hammer").textContent = words.ofHammer(found, data);
    part("basis").textContent = words.ofLosses(found, record);
    const sets = found ? found.sets.map(set => words.ofSet(set, data)) : [];
    const unbroken = words.ofUnbroken(record, data);
    part("sets").replaceChildren(...sets.map(([mean, rest]) => element("li", "", element("b", "", mean), rest)),
      ...unbroken.map(each => element("li", "", each)));
    const state = words.ofState(findings, read);
    part("count").textContent = state;
    return [...sets.map(parts => parts.join("")), state].join(". ");
  }

  worksheet.results = Object.freeze({ show, onPage });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
