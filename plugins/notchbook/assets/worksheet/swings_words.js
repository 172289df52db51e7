/* What was found of free swings, in the words of their page. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, significant } = worksheet.numbers;

  /* The results, a row each: what it is, its value, how sure, and what it is held against. */
  function rowsOf({ hammer, losses, loss_pct, later_J, decay_pct, agreement, verified }) {
    const rows = [];
    const add = (title, value, beside = "", sure = "") => rows.push({ title, value, sure, beside });
    const joules = (title, value, other) =>
      add(title, `${significant(value, 3)} J`, other === null ? "" : `${significant(other, 3)} J at the verification`);
    if (losses) {
      const allowed = hammer.loss_pct;
      joules("Loss of the indicator", losses.indicator_J, verified && verified.indicator_J);
      joules("Loss of bearings and air, free swing", losses.swing_J, verified && verified.swing_J);
      add("Both losses together", `${fixed(loss_pct, 2)} % of the nominal energy`, allowed === null ? ""
        : `${plain(allowed)} % allowed, of which this is ${fixed((100 * loss_pct) / allowed, 0)} %`);
    }
    if (later_J !== null) {
      joules("Loss of bearings and air, later half swings", later_J, verified && verified.half_swing_J);
    }
    if (decay_pct !== null) add("Decay", `${significant(decay_pct, 2)} % of what is left, each half swing`);
    if (agreement) {
      add("Both losses less those of the verification", `${fixed(agreement.difference_pct, 2)} % of the nominal energy`,
        agreement.agrees ? "agrees" : "differs by more than the readings explain",
        `± ${fixed(agreement.expanded_pct, 2)} % by the readings of both`);
    }
    return rows;
  }

  /* What the losses are held against. */
  function basis(found, record) {
    if (!found) return "Choose rig and hammer: then the losses are worked out as you type.";
    const { verification } = found;
    if (verification) return `Beside the verification of ${verification.date}, valid until ${verification.valid_until}.`;
    return record.date ? "No verification of this hammer covers the day: there is nothing to compare with." : "";
  }

  worksheet.swingsWords = Object.freeze({ rowsOf, basis });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
