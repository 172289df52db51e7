/* What a check of the handbook would say of the day's own free swings. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, tooFar } = worksheet.numbers;
  const { divisionWorth_J, swingEnergies } = worksheet.physics;

  /* Whether a swing lost nothing, though the scale is fine enough to show what a sound pendulum loses: half a division
     is worth less than a share of the loss that is allowed. */
  function lostNothing({ hammer, data }, energy_J) {
    const half = divisionWorth_J(hammer.rig, hammer, hammer.release_deg) / 2;
    const allowed = hammer.loss_pct === null ? 0 : (hammer.loss_pct / 100) * hammer.nominal_J;
    const { resolved_share, last_bit } = data.limits;
    return half < resolved_share * allowed ? energy_J <= 0 : energy_J < -half * (1 + last_bit);
  }

  /* Whether the second swing lost more than the first, though it did not carry the pointer; without a pointer both are
     the same swing, and two readings of it may differ by a division either way. */
  function secondLostMore({ hammer, losses, data }) {
    if (!losses) return false;
    const rise = (losses.first_rise_deg + losses.second_rise_deg) / 2;
    const division = hammer.rig.pointer === "drag" ? 0 : divisionWorth_J(hammer.rig, hammer, rise);
    return losses.indicator_J < -division * (1 + data.limits.last_bit);
  }

  function complete({ swings, energies, data, tell }) {
    for (const which of ["first", "second"]) {
      if (energies[which + "_J"] !== null) continue;
      const text = `The ${which} free swing is missing. It takes both to tell the losses apart.`;
      tell("free-swings-complete", "free_swings", text);
    }
    if ((energies.later_J === null) !== !swings.half_swings) {
      const text = "A later swing and the number of half swings go together: add the one that is missing.";
      tell("free-swings-complete", "free_swings", text);
    } else if (energies.later_J === null && data.method.loss_correction === "metals") {
      const text = `The loss correction of ${data.method.standard} needs the later swing and its half swings.`;
      tell("free-swings-complete", "free_swings", text);
    }
  }

  /* Swings that cannot have been; gives whether there are any. */
  function order(given) {
    const { swings, energies, hammer, tell } = given;
    const key = which => "free_swings." + which + (swings[which + "_rise_deg"] ? "_rise_deg" : "_indicated_energy_J");
    const { first_J: first, second_J: second, later_J: later } = energies;
    let wrong = false;
    const refuse = (which, text) => {
      wrong = true;
      tell("free-swing-order", key(which), text);
    };
    if (second !== null && lostNothing(given, second)) {
      refuse("second", `Lost nothing. Read again; see that the release angle is ${plain(hammer.release_deg)}°.`);
    }
    if (first !== null && (lostNothing(given, first) || first >= hammer.potential_J)) {
      refuse("first", `Must end between rest and the release angle of ${plain(hammer.release_deg)}°. Read again.`);
    } else if (secondLostMore(given)) {
      refuse("second", "This lost more than the first, though it did not carry the indicator. Were they exchanged?");
    }
    if (later !== null && second !== null && later <= second) {
      refuse("later", "This rises as high as the second swing or higher. Read it again.");
    }
    return wrong;
  }

  function limit({ swings, hammer, losses, data, tell }) {
    const lost = losses.indicator_J + losses.swing_J;
    const share = (100 * lost) / hammer.nominal_J;
    const allowed = hammer.loss_pct;
    if (allowed === null || !tooFar(share, allowed, data.limits.last_bit)) return;
    const name = swings.first_rise_deg ? "first_rise_deg" : "first_indicated_energy_J";
    tell("loss-limit", "free_swings." + name,
      `Indicator, bearings and air take ${fixed(share, 2)} % of ${plain(hammer.nominal_J)} J; ` +
      `${data.method.standard} allows ${plain(allowed)} %. Swing again; if it stays, call staff.`);
  }

  /* The later swings may differ from the free swing by a share of the larger of both losses, and by one division. */
  function laterSwings({ swings, hammer, losses, data, tell }) {
    const half = losses.half_swing_J;
    if (half === null) return;
    const allowed = divisionWorth_J(hammer.rig, hammer, losses.second_rise_deg) +
      data.limits.later_share * Math.max(half, losses.swing_J);
    if (Math.abs(half - losses.swing_J) <= allowed) return;
    const name = swings.later_rise_deg ? "later_rise_deg" : "later_indicated_energy_J";
    tell("later-swings", "free_swings." + name,
      `By this one bearings and air take ${plain(half)} J a half swing, by the second ${plain(losses.swing_J)} J. ` +
      "Read again and count the half swings.");
  }

  /* Every complaint about the day's own free swings, where there are any and the hammer is chosen. */
  function check({ record, data, found, tell }) {
    const swings = record.free_swings;
    if (!swings || !found) return;
    // a reading that no file may hold is told as such, and nothing is worked out from it
    if (Object.values(swings).some(each => Number.isNaN(each.value))) return;
    const { hammer, losses } = found;
    const given = { swings, energies: swingEnergies(hammer, swings), hammer, losses, data, tell };
    complete(given);
    if (order(given) || !losses) return;
    limit(given);
    laterSwings(given);
  }

  worksheet.checksSwings = Object.freeze({ check });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
