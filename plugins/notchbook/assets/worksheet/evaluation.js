/* A record to energies, strengths and sets, as the engine evaluates one. */

(function (worksheet) {
  "use strict";

  const { valueOf, known } = worksheet.numbers;
  const { chosenHammer, inForce, lossesOf } = worksheet.equipment;
  const { energyFromRise_J, riseFromEnergy_deg, findLosses, lossInTest_J, strength_kJ_m2 } = worksheet.physics;

  /* What one bar gave; null where it cannot be had. */
  function evaluateBar(bar, data, hammer, losses) {
    const { method, limits } = data;
    const had = value => known(value, limits.largest);
    const { moment_Nm, release_deg } = hammer;
    const rise = bar.rise_angle_deg
      ? bar.rise_angle_deg.value
      : riseFromEnergy_deg(moment_Nm, release_deg, valueOf(bar.indicated_energy_J), limits.rounding);
    const loss = losses ? lossInTest_J(method.loss_correction, losses, release_deg, rise) : NaN;
    const energy = energyFromRise_J(moment_Nm, release_deg, rise) - loss;
    const width = valueOf(data.specimen.notch === "none" ? bar.width_mm : bar.remaining_width_mm);
    const kind = method.breaks[bar.break];
    const strength = strength_kJ_m2(energy, valueOf(bar.thickness_mm), width);
    return {
      rise_deg: rise,
      loss_J: had(loss),
      energy_J: had(energy),
      used_pct: had((100 * energy) / hammer.potential_J),
      strength_kJ_m2: kind && kind.has_strength ? had(strength) : null,
    };
  }

  /* The sets: bars that share a mean by their break type; excluded ones and those without a strength are in none. */
  function setsOf(session, data) {
    const { record, bars } = session;
    const groups = new Map();
    record.specimens.forEach((specimen, place) => {
      if (specimen.excluded || bars[place].strength_kJ_m2 === null) return;
      const key = data.method.breaks[specimen.break].group.join();
      groups.set(key, [...(groups.get(key) || []), place]);
    });
    const sets = [...groups.values()].map(members => {
      const summary = worksheet.summary.summarise(members.map(place => bars[place].strength_kJ_m2), data.student_t);
      return {
        breaks: [...new Set(members.map(place => record.specimens[place].break))].sort(),
        ...summary,
        expanded: worksheet.uncertainty.expanded_kJ_m2(summary, members, session, data),
      };
    });
    const letter = ({ breaks: [first] }) => first;
    return sets.sort((one, other) => other.n - one.n || (letter(one) < letter(other) ? -1 : 1));
  }

  /* Losses, bars and sets of a record; null while no hammer is chosen. */
  function evaluate(record, data) {
    const hammer = chosenHammer(data, record);
    if (!hammer) return null;
    const verification = inForce(hammer, record.date);
    const losses = record.free_swings
      ? findLosses(hammer, record.free_swings, data.limits.rounding) : lossesOf(verification);
    const bars = record.specimens.map(bar => evaluateBar(bar, data, hammer, losses));
    const sets = setsOf({ record, hammer, losses, bars }, data);
    return { hammer, verification, losses, bars, sets };
  }

  worksheet.evaluation = Object.freeze({ evaluate });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
