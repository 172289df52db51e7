/* What was found, beside the fields and under the bars: complaints, energies and strengths, the sets. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, significant } = worksheet.numbers;
  const { fieldKey } = worksheet.form;

  // colour is never the only sign of how grave a complaint is
  const WORDS = { error: "Error", warning: "Warning", note: "Note", sofar: "So far" };

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
        element("span", `nb-${each.severity}`, element("b", "", `${WORDS[each.severity]}: `), each.text)));
      if (!control) continue;
      control.removeAttribute("aria-describedby");
      if (held.length) control.setAttribute("aria-describedby", told.id);
      control.setAttribute("aria-invalid", String(held.some(each => each.severity === "error")));
    }
  }

  function showBar(card, bar, found, data, hammer) {
    const parts = [];
    if (found && found.energy_J !== null) {
      const share = `${fixed(found.used_pct, 1)} % of the hammer's ${significant(hammer.potential_J, 3)} J`;
      parts.push(element("span", "", `${significant(found.energy_J, 3)} J, ${share}`));
      if (found.strength_kJ_m2 !== null) {
        parts.push(element("b", "", `${significant(found.strength_kJ_m2, 3)} kJ/m²`));
      } else if (data.method.breaks[bar.break] && !data.method.breaks[bar.break].has_strength) {
        parts.push(element("span", "", `${bar.break}: no strength`));
      }
      if (bar.excluded) parts.push(element("span", "", "left out"));
    } else if (found && hammer && (bar.rise_angle_deg || bar.indicated_energy_J)) {
      parts.push(element("span", "", "The energy cannot be had yet."));
    }
    card.querySelector(".nb-ws-found").replaceChildren(...parts);
  }

  /* One set in words: its mean, and its spread. */
  function setWords(set, figures) {
    const mean = `${set.breaks.join("/")}: mean ${significant(set.mean, figures)} kJ/m²`;
    if (set.deviation === null) return [mean, ", 1 bar"];
    const [low, high] = set.interval.map(each => significant(each, figures + 1));
    const spread = `s ${significant(set.deviation, 2)} kJ/m², n ${set.n}`;
    return [mean, `, ${spread}, 95 % interval of the mean ${low} to ${high} kJ/m²`];
  }

  function basis(found, record) {
    if (!found) return "Choose rig and hammer: then energies and strengths are worked out as you type.";
    if (record.free_swings) {
      return found.losses ? "Losses by the day's own free swings." : "Losses wait for both free swings of the day.";
    }
    if (!found.verification) return "Losses are not known: no verification covers the day, and there are no free swings.";
    return `Losses by the verification of ${found.verification.date}, valid until ${found.verification.valid_until}.`;
  }

  /* Whether energies can be had with the chosen hammer, and between which a bar should lie. */
  function hammerWords(found, data) {
    if (!found) return "";
    const [low, high] = data.method.window_pct.map(each => significant((each / 100) * found.hammer.potential_J, 2));
    return `For bars of ${low} to ${high} J; released at ${plain(found.hammer.release_deg)}°.`;
  }

  /* Too few bars are no error while rows wait for more of them. */
  function asProgress(findings, record) {
    return findings.map(each =>
      (each.rule === "specimen-number" && record.untouched.length ? { ...each, severity: "sofar" } : each));
  }

  function counted(number, noun) {
    return `${number} ${noun}${number === 1 ? "" : "s"}`;
  }

  /* Everything that was found of a record, on the page. Gives the words for those who do not see it. */
  function show(form, read, complaints, found, typing) {
    const { record } = read;
    const data = form.data;
    const findings = asProgress(complaints, record);
    tell(form, findings, record, typing);
    form.bars.forEach(card => card.querySelector(".nb-ws-found").replaceChildren());
    record.specimens.forEach((bar, index) => {
      showBar(form.bars[bar.row], bar, found && found.bars[index], data, found && found.hammer);
    });
    const part = name => form.element.querySelector(`.nb-ws-${name}`);
    part("hammer").textContent = hammerWords(found, data);
    part("basis").textContent = basis(found, record);
    const sets = found ? found.sets.map(set => setWords(set, data.method.significant_figures)) : [];
    part("sets").replaceChildren(...sets.map(([mean, rest]) => element("li", "", element("b", "", mean), rest)));
    const unbroken = record.specimens.filter(bar => {
      const kind = data.method.breaks[bar.break];
      return !bar.excluded && kind && !kind.has_strength;
    }).length;
    if (unbroken) part("sets").append(element("li", "", `${counted(unbroken, "bar")} did not break: no strength`));
    const errors = findings.filter(each => each.severity === "error").length;
    const warnings = findings.filter(each => each.severity === "warning").length;
    const open = read.missing.length + read.refused.length;
    const rest = open ? `${open} ${open === 1 ? "entry" : "entries"} missing or not possible` : "complete";
    const state = `${counted(errors, "error")}, ${counted(warnings, "warning")}; ${rest}.`;
    part("count").textContent = state;
    return [...sets.map(words => words.join("")), state].join(". ");
  }

  worksheet.results = Object.freeze({ show, onPage });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
