/* What was found of a record, in words: its bars and sets, what the losses rest on. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, significant, intervalEnds } = worksheet.numbers;
  const { counted } = worksheet.progress;

  // what more bars will settle
  const PROGRESS = ["specimen-number", "bar-missing"];

  /* A break type as the method calls it. */
  function breakWords(letter, data) {
    const kind = data.method.breaks[letter];
    return kind ? `${letter} ${kind.title}` : letter;
  }

  function hasNoStrength(bar, data) {
    const kind = data.method.breaks[bar.break];
    return kind !== undefined && !kind.has_strength;
  }

  /* One bar: its energy with the hammer's share, its strength, or why there is none; `strong` is what is sought. */
  function ofBar(bar, found, data) {
    if (!found) return [];
    if (found.energy_J === null) {
      return bar.rise_angle_deg || bar.indicated_energy_J ? [{ text: "The energy cannot be had yet." }] : [];
    }
    const share = `${fixed(found.used_pct, 1)} % of the hammer's ${significant(found.hammer.potential_J, 3)} J`;
    const parts = [{ text: `${significant(found.energy_J, 3)} J, ${share}` }];
    if (found.strength_kJ_m2 !== null) {
      parts.push({ text: `${significant(found.strength_kJ_m2, 3)} kJ/m²`, strong: true });
    } else if (hasNoStrength(bar, data)) {
      parts.push({ text: `${breakWords(bar.break, data)}: no strength` });
    }
    if (bar.excluded) parts.push({ text: "left out" });
    return parts;
  }

  /* One set: its mean, and its spread. */
  function ofSet(set, data) {
    const figures = data.method.significant_figures;
    const breaks = set.breaks.map(letter => breakWords(letter, data)).join(", ");
    const mean = `${breaks}: mean ${significant(set.mean, figures)} kJ/m²`;
    if (set.deviation === null) return [mean, ", 1 bar"];
    const whole = set.expanded !== null;
    const [low, high] = intervalEnds(...(whole ? [set.mean - set.expanded, set.mean + set.expanded] : set.interval));
    const spread = `s ${significant(set.deviation, 2)} kJ/m², n ${set.n}`;
    return [mean, `, ${spread}, 95 % interval of the mean ${low} to ${high} kJ/m²${whole ? "" : " (from scatter alone)"}`];
  }

  /* The bars that count and did not break, as one line or none, and whether they are more than broke in any one way. */
  function ofUnbroken(record, found, data) {
    const counting = record.specimens.filter(bar => !bar.excluded);
    const unbroken = counting.filter(bar => hasNoStrength(bar, data)).length;
    const [largest = { n: 0 }] = found ? found.sets : [];
    const lines = unbroken ? [`${unbroken} of ${counted(counting.length, "bar")} did not break: no strength`] : [];
    return { lines, lead: unbroken > largest.n };
  }

  function ofLosses(found, record) {
    if (!found) return "Choose rig and hammer: then energies and strengths are worked out as you type.";
    if (record.free_swings) {
      return found.losses ? "Losses by the day's own free swings." : "Losses wait for both free swings of the day.";
    }
    if (!found.verification) return "Losses are not known: no verification covers the day, and there are no free swings.";
    return `Losses by the verification of ${found.verification.date}, valid until ${found.verification.valid_until}.`;
  }

  /* Between which energies a bar should lie on the chosen hammer. */
  function ofHammer(found, data) {
    if (!found) return "";
    const [low, high] = data.method.window_pct.map(each => significant((each / 100) * found.hammer.potential_J, 2));
    return `For bars of ${low} to ${high} J; released at ${plain(found.hammer.release_deg)}°.`;
  }

  /* The findings as they are to be shown: what waits for more bars is no fault while rows are left for them. */
  function asProgress(findings, record) {
    return findings.map(each =>
      (PROGRESS.includes(each.rule) && record.untouched.length ? { ...each, severity: "sofar" } : each));
  }

  worksheet.words = Object.freeze({ ofBar, ofSet, ofUnbroken, ofLosses, ofHammer, asProgress });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
