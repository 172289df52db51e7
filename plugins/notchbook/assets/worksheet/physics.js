/* Energy, losses and strength: the formulae of the engine's room of physics, digit for digit.

   Angles in degrees from the pendulum hanging at rest, release and rise both positive; moments in Nm, energies in J. */

(function (worksheet) {
  "use strict";

  const DEGREE = Math.PI / 180;

  /* Energy missing after a swing: W = M (cos beta - cos alpha), as a product of sines, which keeps its digits when the
     angles are close (ISO 148-1, 8.2; ISO 13802:1999, 5.1). */
  function energyFromRise_J(moment_Nm, release_deg, rise_deg) {
    const halfSum = ((release_deg + rise_deg) * DEGREE) / 2;
    const halfDifference = ((release_deg - rise_deg) * DEGREE) / 2;
    return 2 * moment_Nm * Math.sin(halfSum) * Math.sin(halfDifference);
  }

  /* Rise after an energy was given off: cos beta = cos alpha + W / M, by its half angle; NaN where there is none.
     A squared sine below 0 by no more than the rounding is taken for 0. */
  function riseFromEnergy_deg(moment_Nm, release_deg, energy_J, rounding) {
    const halfRelease = (release_deg * DEGREE) / 2;
    const share = energy_J / moment_Nm / 2;
    const sineSquared = Math.sin(halfRelease) ** 2 - share;
    const cosineSquared = Math.cos(halfRelease) ** 2 + share;
    if (!(sineSquared >= -rounding && cosineSquared >= -rounding)) return NaN;
    const half = Math.atan2(Math.sqrt(Math.max(sineSquared, 0)), Math.sqrt(Math.max(cosineSquared, 0)));
    return (2 * half) / DEGREE;
  }

  /* What one division of the scale is worth, half of it to each side; at an end of the scale the division there. */
  function divisionWorth_J(rig, hammer, rise_deg) {
    if (rig.reads === "energy") return hammer.division_J || 0;
    const half = Math.min(hammer.division_deg || 0, hammer.release_deg) / 2;
    const middle = Math.min(Math.max(rise_deg, half), hammer.release_deg - half);
    return Math.abs(energyFromRise_J(hammer.moment_Nm, middle + half, middle - half));
  }

  /* Energies missing after the free swings, from whichever scale they were read on; null where not read. */
  function swingEnergies(hammer, swings) {
    function energy(which) {
      const rise = swings[which + "_rise_deg"];
      if (rise) return energyFromRise_J(hammer.moment_Nm, hammer.release_deg, rise.value);
      const indicated = swings[which + "_indicated_energy_J"];
      return indicated ? indicated.value : null;
    }
    return { first_J: energy("first"), second_J: energy("second"), later_J: energy("later") };
  }

  /* What a hammer loses by itself, from the readings of free swings; null without the two that it takes.
     W_P = M (cos beta_1 - cos beta_2), W_AB = M (cos beta_2 - cos alpha), p' = M (cos beta_3 - cos beta_2) / n. */
  function findLosses(hammer, swings, rounding) {
    const energies = swingEnergies(hammer, swings);
    if (energies.first_J === null || energies.second_J === null) return null;
    const half = swings.half_swings;
    const later = energies.later_J !== null && half;
    function rise(which, energy_J) {
      const read = swings[which + "_rise_deg"];
      return read ? read.value : riseFromEnergy_deg(hammer.moment_Nm, hammer.release_deg, energy_J, rounding);
    }
    return {
      first_rise_deg: rise("first", energies.first_J),
      second_rise_deg: rise("second", energies.second_J),
      indicator_J: energies.first_J - energies.second_J,
      swing_J: energies.second_J,
      half_swing_J: later ? (energies.later_J - energies.second_J) / half.value : null,
    };
  }

  /* Loss in a test that rises to an angle; NaN where the correction needs later swings that were not read.
     Plastics methods: 1/2 [W_AB + (beta/alpha) (W_AB + 2 W_P)] (ISO 13802:1999, 5.6).
     Metals methods: p beta/beta_1 + p' (alpha + beta)/(alpha + beta_2) (ISO 148-1, 8.2). */
  function lossInTest_J(correction, losses, release_deg, rise_deg) {
    if (correction === "plastics") {
      return 0.5 * (losses.swing_J + (rise_deg / release_deg) * (losses.swing_J + 2 * losses.indicator_J));
    }
    if (losses.half_swing_J === null) return NaN;
    const carried = rise_deg / losses.first_rise_deg;
    const travelled = (release_deg + rise_deg) / (release_deg + losses.second_rise_deg);
    return losses.indicator_J * carried + losses.half_swing_J * travelled;
  }

  /* Energy over the section that broke; J over mm2 gives kJ/m2 after x 1000 (ISO 179-1, 8; ISO 180, 8). */
  function strength_kJ_m2(energy_J, thickness_mm, width_mm) {
    return (1000 * energy_J) / (thickness_mm * width_mm);
  }

  worksheet.physics = Object.freeze({
    energyFromRise_J, riseFromEnergy_deg, divisionWorth_J, swingEnergies, findLosses, lossInTest_J, strength_kJ_m2,
  });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
