/* Free swings to losses, decay and agreement with the verification in force, as the engine evaluates them. */

(function (worksheet) {
  "use strict";

  const { valueOf, known } = worksheet.numbers;
  const { divisionWorth_J, energyFromRise_J, findLosses, swingEnergies } = worksheet.physics;
  const { chosenHammer, inForce, lossesOf } = worksheet.equipment;
  const { sum } = worksheet.summary;

  /* Energies missing after each swing of a series. */
  function seriesEnergies_J(hammer, series) {
    if (!series.rises_deg) return series.indicated_energies_J.map(valueOf);
    return series.rises_deg.map(each => energyFromRise_J(hammer.moment_Nm, hammer.release_deg, valueOf(each)));
  }

  /* What a half swing takes of the energy that is left before it, by the exponential that begins at the whole energy
     (least squares of the logarithms); null where the energy grows, no number where it ends. */
  function decay_pct(hammer, numbers, lost_J) {
    const left = lost_J.map(each => 100 * (1 - each / hammer.potential_J));
    const falls = left.every((each, place) => !place || each < left[place - 1]);
    if (!(left[0] <= 100 && falls)) return null;
    const products = sum(numbers.map((n, place) => n * Math.log(100 / left[place])));
    return -100 * Math.expm1(-products / sum(numbers.map(n => n * n)));
  }

  function loss_pct(losses, hammer) {
    return (100 * (losses.indicator_J + losses.swing_J)) / hammer.nominal_J;
  }

  /* The group's loss less that of the verification, and the expanded uncertainty of the difference by the readings of
     both, in percent of the nominal energy; half a division to each side, rectangular. */
  function agreement(hammer, losses, verified, data) {
    const [own, other] = [losses, verified].map(each =>
      (data.limits.coverage_factor * divisionWorth_J(hammer.rig, hammer, each.first_rise_deg)) / Math.sqrt(12));
    const expanded_pct = (100 * Math.hypot(own, other)) / hammer.nominal_J;
    const difference_pct = loss_pct(losses, hammer) - loss_pct(verified, hammer);
    if (Number.isNaN(difference_pct) || Number.isNaN(expanded_pct)) return null;
    return { difference_pct, expanded_pct, agrees: Math.abs(difference_pct) <= expanded_pct };
  }

  /* What the readings of a record give; null while no hammer is chosen. */
  function evaluate(record, data) {
    const hammer = chosenHammer(data, record);
    if (!hammer) return null;
    const { free_swings: swings, series } = record;
    const verification = inForce(hammer, record.date);
    const losses = swings ? findLosses(hammer, swings, data.limits.rounding) : null;
    const verified = lossesOf(verification);
    const between = series ? valueOf(series.half_swings_between) : NaN;
    let later = losses ? losses.half_swing_J : null;
    let decay = null;
    if (series) {
      const energies = seriesEnergies_J(hammer, series);
      const last = energies.length - 1;
      if (later === null) later = (energies[last] - energies[0]) / (last * between);
      decay = decay_pct(hammer, energies.map((_, place) => 1 + place * between), energies);
    } else if (swings) {
      const { second_J, later_J } = swingEnergies(hammer, swings);
      const half = valueOf(swings.half_swings);
      if (second_J !== null && later_J !== null && half) decay = decay_pct(hammer, [1, 1 + half], [second_J, later_J]);
    }
    return {
      hammer,
      verification,
      verified,
      losses,
      loss_pct: losses && loss_pct(losses, hammer),
      later_J: later === null ? null : known(later, data.limits.largest),
      decay_pct: decay === null ? null : known(decay, data.limits.largest),
      agreement: losses && verified ? agreement(hammer, losses, verified, data) : null,
    };
  }

  worksheet.swingsEvaluation = Object.freeze({ evaluate, seriesEnergies_J });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
