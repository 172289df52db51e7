/* What a check of the handbook would say of each bar: the same rules and places, in shorter words. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, valueOf, tooFar } = worksheet.numbers;
  const { divisionWorth_J, riseFromEnergy_deg } = worksheet.physics;
  const { inForce } = worksheet.equipment;

  const RULES = {
    width_mm: "specimen-width", thickness_mm: "specimen-thickness", remaining_width_mm: "remaining-width",
  };

  /* Whether a value lies inside its tolerance, the ends included but for the last bit of a binary fraction. */
  function allows(asked, value, { last_bit }) {
    const slack = last_bit * Math.max(1, Math.abs(asked.value));
    return (asked.low === null || value >= asked.low - slack) && (asked.high === null || value <= asked.high + slack);
  }

  /* A power of ten to the last bit, which not every one is that a browser works out. */
  function tenTo(power) {
    return Number("1e" + power);
  }

  /* How many powers of ten a length is off what is asked; 0 where none explains it. */
  function powerOfTenOff(value, expected, { same_size }) {
    const power = Math.round(Math.log10(value / expected));
    const factor = value / expected / tenTo(power);
    return power && factor >= 1 / same_size && factor <= same_size ? power : 0;
  }

  function ids({ record, tell }) {
    const seen = new Set();
    record.specimens.forEach((bar, index) => {
      if (bar.id && seen.has(bar.id)) tell("specimen-id", `specimens.${index}.id`, `Number ${bar.id} is taken.`);
      seen.add(bar.id);
    });
  }

  function dimensions({ record, data, tell }) {
    const { method, limits } = data;
    record.specimens.forEach((bar, index) => {
      let slipped = false;
      for (const [name, rule] of Object.entries(RULES)) {
        const asked = method.dimensions[name];
        const value = valueOf(bar[name]);
        if (!asked || Number.isNaN(value) || allows(asked, value, limits)) continue;
        const place = `specimens.${index}.${name}`;
        const power = powerOfTenOff(value, asked.value, limits);
        if (power) {
          slipped = true;
          const unit = limits.units_of_length[power] || `a slip of the decimal point by ${Math.abs(power)}`;
          tell("unit-slip", place, `Looks like ${unit}. Was ${plain(value / tenTo(power))} mm measured?`);
        } else if (!bar.excluded) {
          tell(rule, place, `${method.standard} asks for ${asked.text}. Measure again.`);
        }
      }
      if (!slipped && valueOf(bar.remaining_width_mm) >= valueOf(bar.width_mm)) {
        const text = `Not below the width of ${plain(bar.width_mm.value)} mm. Measure both again.`;
        tell("remaining-below-width", `specimens.${index}.remaining_width_mm`, text);
      }
    });
  }

  /* A reading for each bar that counts, and one that can have been; gives the bars whose reading cannot. */
  function readings({ record, found, tell }) {
    const told = new Set();
    const refuse = (rule, index, name, text) => {
      told.add(index);
      tell(rule, `specimens.${index}.${name}`, text);
    };
    const { hammer, losses } = found;
    record.specimens.forEach((bar, index) => {
      const rise = valueOf(bar.rise_angle_deg);
      const indicated = valueOf(bar.indicated_energy_J);
      // a bar that stopped the pendulum stays on record, but does not count
      const stopped = bar.excluded && (rise === 0 || indicated === hammer.nominal_J);
      if (!stopped && (rise <= 0 || rise >= hammer.release_deg)) {
        refuse("rise-angle", index, "rise_angle_deg",
          `Must lie between rest and the release angle of ${plain(hammer.release_deg)}°. Read again.`);
      } else if (!stopped && (indicated <= 0 || indicated >= hammer.potential_J)) {
        refuse("rise-angle", index, "indicated_energy_J",
          `Must lie between nothing and the hammer's ${plain(hammer.potential_J)} J. Read again.`);
      }
      if (!losses) return;
      const free = losses.indicator_J + losses.swing_J;
      if (losses.first_rise_deg < rise && rise < hammer.release_deg) {
        refuse("loss-floor", index, "rise_angle_deg",
          `Above the ${plain(losses.first_rise_deg)}° of the free swing. Read again; check the hammer.`);
      } else if (indicated > 0 && indicated < free) {
        refuse("loss-floor", index, "indicated_energy_J",
          `Below the ${plain(free)} J of the free swing. Read again; check the hammer.`);
      }
    });
    return told;
  }

  function counts(bar, data) {
    const kind = data.method.breaks[bar.break];
    return !bar.excluded && kind !== undefined && kind.has_strength;
  }

  /* Whether the method's window holds a share of the hammer's energy, its ends included. */
  function holds({ method, limits }, used_pct) {
    const [low, high] = method.window_pct;
    return low * (1 - limits.last_bit) <= used_pct && used_pct <= high * (1 + limits.last_bit);
  }

  function energyWindow({ record, data, found, tell }, told) {
    const [low, high] = data.method.window_pct;
    record.specimens.forEach((bar, index) => {
      const used = found.bars[index].used_pct;
      if (!counts(bar, data) || told.has(index) || used === null || holds(data, used)) return;
      const name = bar.rise_angle_deg ? "rise_angle_deg" : "indicated_energy_J";
      const [what, limit, side] = used > high
        ? ["Too much", `above ${plain(high)}`, "larger"]
        : ["Too little", `below ${plain(low)}`, "smaller"];
      tell("energy-window", `specimens.${index}.${name}`,
        `${what}: ${fixed(used, 1)} % of the hammer, ${limit} %. Read again; if right, ask for a ${side} one.`);
    });
  }

  /* By how much an energy at the lower end of a hammer's window may have been read too high. */
  function misread_J(each, { method, limits }, rig) {
    const least = (each.potential_J * method.window_pct[0]) / 100;
    const rise = riseFromEnergy_deg(each.moment_Nm, each.release_deg, least, limits.rounding);
    return limits.misread_divisions * divisionWorth_J(rig, each, rise);
  }

  /* A larger hammer of the rig that is verified that day, and whose window holds all energies too. */
  function largerHammer({ record, data, found, tell }) {
    const { hammer } = found;
    const { method, limits } = data;
    const energies = found.bars.filter((bar, index) => bar.energy_J !== null && counts(record.specimens[index], data))
      .map(bar => bar.energy_J);
    if (!method.takes_largest || !energies.length) return;
    const fitting = Object.values(hammer.rig.hammers).filter(each =>
      each.potential_J > hammer.potential_J * limits.larger_by && each.loss_pct !== null &&
      inForce(each, record.date) &&
      !tooFar(100 * (each.potential_J / each.nominal_J - 1), method.energy_tolerance_pct, limits.last_bit) &&
      holds(data, (100 * Math.max(...energies)) / each.potential_J) &&
      holds(data, (100 * (Math.min(...energies) - misread_J(each, data, hammer.rig))) / each.potential_J));
    if (!fitting.length) return;
    const best = fitting.reduce((one, other) => (other.potential_J > one.potential_J ? other : one));
    tell("larger-hammer", "hammer",
      `The ${best.title} would also have kept all energies inside the window: take the largest that does.`);
  }

  /* Every complaint about single bars and their hammer. The case holds the record, the page's data, what was found and
     where to tell it. */
  function check(given) {
    ids(given);
    dimensions(given);
    if (!given.found) return;
    energyWindow(given, readings(given));
    largerHammer(given);
  }

  worksheet.checksBars = Object.freeze({ check, allows, powerOfTenOff, counts });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
