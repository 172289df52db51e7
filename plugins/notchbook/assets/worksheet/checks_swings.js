/* What a check of the handbook would say of the day's own free swings. */

(function (worksheet) {
  "use strict";

  const { plain, fixed } = worksheet.numbers;
  const { energyFromRise_J, swingEnergies } = worksheet.physics;

  // the later swings may differ from the free swing by this share of the larger of both losses, and by one division
  const LATER_SHARE = 0.25;
  // half a division worth less than this share of the allowed loss shows a loss that is there
  const RESOLVED_SHARE = 0.1;

  /* What one division of the scale is worth at a height of the swing. */
  function divisionWorth_J(hammer, rise_deg) {
    const { division_J, division_deg } = hammer.rig;
    if (division_J !== null) return division_J;
    return energyFromRise_J(hammer.moment_Nm, rise_deg, rise_deg - (division_deg || 0));
  }

  /* Whether a swing lost nothing, though the scale is fine enough to show what a sound pendulum loses. */
  function lostNothing(hammer, energy_J) {
    const half = divisionWorth_J(hammer, hammer.release_deg) / 2;
    const allowed = hammer.loss_pct === null ? 0 : (hammer.loss_pct / 100) * hammer.nominal_J;
    return half < RESOLVED_SHARE * allowed ? energy_J <= 0 : energy_J < -half * (1 + 1e-9);
  }

  function complete({ swings, energies, data, tell }) {
    for (const which of ["first", "second"]) {
      if (energies[which + "_J"] !== null) continue;
      const text = `The ${which} free swing is missing. It takes both to tell the losses apart.`;
      tell("free-swings-complete", "error", "free_swings", text);
    }
    if ((energies.later_J === null) !== !swings.half_swings) {
      const text = "A later swing and the number of half swings go together: add the one that is missing.";
      tell("free-swings-complete", "error", "free_swings", text);
    } else if (energies.later_J === null && data.method.loss_correction === "metals") {
      const text = `The loss correction of ${data.method.standard} needs the later swing and its half swings.`;
      tell("free-swings-complete", "error", "free_swings", text);
    }
  }

  /* Swings that cannot have been; gives whether there are any. */
  function order({ swings, energies, hammer, tell }) {
    const key = which => "free_swings." + which + (swings[which + "_rise_deg"] ? "_rise_deg" : "_indicated_energy_J");
    const { first_J: first, second_J: second, later_J: later } = energies;
    let wrong = false;
    const refuse = (which, text) => {
      wrong = true;
      tell("free-swing-order", "error", key(which), text);
    };
    if (second !== null && lostNothing(hammer, second)) {
      refuse("second", `Lost nothing. Read again; see that the release angle is ${plain(hammer.release_deg)}°.`);
    }
    if (first !== null && (lostNothing(hammer, first) || first >= hammer.potential_J)) {
      refuse("first", `Must end between rest and the release angle of ${plain(hammer.release_deg)}°. Read again.`);
    } else if (first !== null && second !== null && first < second) {
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
    if (allowed === null || share <= allowed + 1e-9 * Math.max(1, allowed)) return;
    const name = swings.first_rise_deg ? "first_rise_deg" : "first_indicated_energy_J";
    tell("loss-limit", "error", "free_swings." + name,
      `Indicator, bearings and air take ${fixed(share, 2)} % of ${plain(hammer.nominal_J)} J; ` +
      `${data.method.standard} allows ${plain(allowed)} %. Swing again; if it stays, call staff.`);
  }

  function laterSwings({ swings, hammer, losses, tell }) {
    const half = losses.half_swing_J;
    if (half === null) return;
    const allowed = divisionWorth_J(hammer, losses.second_rise_deg) + LATER_SHARE * Math.max(half, losses.swing_J);
    if (Math.abs(half - losses.swing_J) <= allowed) return;
    const name = swings.later_rise_deg ? "later_rise_deg" : "later_indicated_energy_J";
    tell("later-swings", "error", "free_swings." + name,
      `By this one bearings and air take ${plain(half)} J a swing, by the second ${plain(losses.swing_J)} J. ` +
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
