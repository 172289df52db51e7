/* What a session is swung with: the hammer that is chosen, and its verification in force. */

(function (worksheet) {
  "use strict";

  /* The hammer that is chosen, with its rig, or null. */
  function chosenHammer(data, record) {
    const rig = data.rigs[record.rig];
    const hammer = rig ? rig.hammers[record.hammer] : undefined;
    return hammer ? { ...hammer, rig } : null;
  }

  /* The newest verification that covers the day, or null; they come newest first. */
  function inForce(hammer, day) {
    if (!day) return null;
    return hammer.verifications.find(each => each.date <= day && day <= each.valid_until) || null;
  }

  function lossesOf(verification) {
    if (!verification || !verification.losses) return null;
    const [first_rise_deg, second_rise_deg, indicator_J, swing_J, half_swing_J] = verification.losses;
    return { first_rise_deg, second_rise_deg, indicator_J, swing_J, half_swing_J };
  }

  worksheet.equipment = Object.freeze({ chosenHammer, inForce, lossesOf });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
