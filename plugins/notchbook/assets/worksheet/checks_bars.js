/* What a check of the handbook would say of each bar: the same rules, severities and places, in shorter words. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, valueOf } = worksheet.numbers;

  // how far a value may lie from the required one, as a factor, and still be that length in another unit
  const SAME_SIZE = 1.25;
  const UNITS = { "-3": "metres", "-1": "centimetres", 1: "tenths of a millimetre", 3: "micrometres" };
  const DIMENSIONS = ["width_mm", "thickness_mm", "remaining_width_mm"];
  const RULES = {
    width_mm: "specimen-width", thickness_mm: "specimen-thickness", remaining_width_mm: "remaining-width",
  };

  /* Whether a value lies inside its tolerance, the ends included but for the last bit of a binary fraction. */
  function allows(asked, value) {
    const slack = 1e-9 * Math.max(1, Math.abs(asked.value));
    return (asked.low === null || value >= asked.low - slack) && (asked.high === null || value <= asked.high + slack);
  }

  /* How many powers of ten a length is off what is asked; 0 where none explains it. */
  function powerOfTenOff(value, expected) {
    if (!(value > 0) || !(expected > 0)) return 0;
    const power = Math.round(Math.log10(value / expected));
    const factor = value / expected / 10 ** power;
    return power && factor >= 1 / SAME_SIZE && factor <= SAME_SIZE ? power : 0;
  }

  function ids({ record, tell }) {
    const seen = new Set();
    record.specimens.forEach((bar, index) => {
      if (bar.id && seen.has(bar.id)) {
        tell("specimen-id", "error", `specimens.${index}.id`, `Number ${bar.id} is taken.`);
      }
      seen.add(bar.id);
    });
  }

  function dimensions({ record, data, tell }) {
    const method = data.method;
    record.specimens.forEach((bar, index) => {
      let slipped = false;
      for (const name of DIMENSIONS) {
        const asked = method.dimensions[name];
        const value = valueOf(bar[name]);
        if (!asked || Number.isNaN(value) || allows(asked, value)) continue;
        const place = `specimens.${index}.${name}`;
        const power = powerOfTenOff(value, asked.value);
        if (power) {
          slipped = true;
          const unit = UNITS[power] || `a slip of the decimal point by ${Math.abs(power)}`;
          const meant = plain(value / 10 ** power);
          tell("unit-slip", "error", place, `Looks like ${unit}. Was ${meant} mm measured?`);
        } else if (!bar.excluded) {
          tell(RULES[name], "error", place, `${method.standard} asks for ${asked.text}. Measure again.`);
        }
      }
      if (!slipped && valueOf(bar.remaining_width_mm) >= valueOf(bar.width_mm)) {
        const text = `Not below the width of ${plain(bar.width_mm.value)} mm. Measure both again.`;
        tell("remaining-below-width", "error", `specimens.${index}.remaining_width_mm`, text);
      }
    });
  }

  function isRead(bar) {
    return Boolean(bar.rise_angle_deg || bar.indicated_energy_J);
  }

  /* A reading for each bar that counts, and one that can have been; gives the bars whose reading cannot. */
  function readings({ record, found, tell }) {
    const told = new Set();
    const refuse = (rule, index, name, text) => {
      told.add(index);
      tell(rule, "error", `specimens.${index}.${name}`, text);
    };
    record.specimens.forEach((bar, index) => {
      if (!found) return;
      const { hammer, losses } = found;
      const rise = valueOf(bar.rise_angle_deg);
      const indicated = valueOf(bar.indicated_energy_J);
      const whole = plain(hammer.release_deg);
      // a bar that stopped the pendulum stays on record, but does not count
      const stopped = bar.excluded && (rise === 0 || indicated === hammer.nominal_J);
      if (!stopped && (rise <= 0 || rise >= hammer.release_deg)) {
        refuse("rise-angle", index, "rise_angle_deg",
          `Must lie between 0° and the release angle of ${whole}°. Read again.`);
      } else if (!stopped && (indicated <= 0 || indicated >= hammer.potential_J)) {
        refuse("rise-angle", index, "indicated_energy_J",
          `Must lie between 0 and the hammer's ${plain(hammer.potential_J)} J. Read again.`);
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

  function energyWindow({ record, data, found, tell }, told) {
    if (!found) return;
    const [low, high] = data.method.window_pct;
    record.specimens.forEach((bar, index) => {
      const used = found.bars[index].used_pct;
      if (!counts(bar, data) || told.has(index) || used === null || (low <= used && used <= high)) return;
      const name = bar.rise_angle_deg ? "rise_angle_deg" : "indicated_energy_J";
      const words = used > high
        ? ["Too much", `above ${plain(high)}`, "larger"]
        : ["Too little", `below ${plain(low)}`, "smaller"];
      tell("energy-window", "error", `specimens.${index}.${name}`,
        `${words[0]}: ${fixed(used, 1)} % of the hammer, ${words[1]} %. ` +
        `Read again; if right, ask for a ${words[2]} one.`);
    });
  }

  /* A larger hammer of the rig whose window holds all energies too. */
  function largerHammer({ record, data, found, tell }) {
    if (!found) return;
    const { hammer } = found;
    const [low, high] = data.method.window_pct;
    const energies = found.bars.filter((bar, index) => bar.energy_J !== null && counts(record.specimens[index], data))
      .map(bar => bar.energy_J);
    if (!energies.length) return;
    const tolerance = data.method.energy_tolerance_pct;
    const fitting = Object.values(hammer.rig.hammers).filter(each =>
      each.potential_J > hammer.potential_J * 1.01 && each.loss_pct !== null &&
      Math.abs(100 * (each.potential_J / each.nominal_J - 1)) <= tolerance + 1e-9 * Math.max(1, tolerance) &&
      (low / 100) * each.potential_J <= Math.min(...energies) &&
      Math.max(...energies) <= (high / 100) * each.potential_J);
    if (!fitting.length) return;
    const best = fitting.reduce((one, other) => (other.potential_J > one.potential_J ? other : one));
    tell("larger-hammer", "warning", "hammer",
      `The ${best.title} would also have kept all energies inside the window: take the largest that does.`);
  }

  function repeatedReadings({ record, tell }) {
    const first = new Map();
    record.specimens.forEach((bar, index) => {
      const row = [...DIMENSIONS, "rise_angle_deg", "indicated_energy_J"].map(name => valueOf(bar[name])).join();
      if (!isRead(bar)) return;
      if (first.has(row)) {
        const text = `Same dimensions and reading as bar ${first.get(row)}: it looks copied. Compare with your notes.`;
        tell("repeated-readings", "warning", `specimens.${index}`, text);
      } else {
        first.set(row, bar.id);
      }
    });
  }

  /* Every complaint about the bars. The case holds the record, the page's data, what was found and where to tell it. */
  function check(given) {
    ids(given);
    dimensions(given);
    energyWindow(given, readings(given));
    largerHammer(given);
    repeatedReadings(given);
  }

  worksheet.checksBars = Object.freeze({ check, allows });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
