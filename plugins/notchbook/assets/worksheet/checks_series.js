/* What a check of the handbook would say of all bars together: their number, their ways of breaking, their readings. */

(function (worksheet) {
  "use strict";

  const { plain, fixed, valueOf, matches } = worksheet.numbers;
  const { counts } = worksheet.checksBars;
  const { sum } = worksheet.summary;

  const NUMBERS = ["width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "indicated_energy_J"];

  function readingOf(bar) {
    return bar.rise_angle_deg || bar.indicated_energy_J;
  }

  function repeatedReadings({ record, tell }) {
    const first = new Map();
    record.specimens.forEach((bar, index) => {
      const row = NUMBERS.map(name => valueOf(bar[name])).join();
      if (!readingOf(bar)) return;
      if (first.has(row)) {
        const text = `Same dimensions and reading as bar ${first.get(row)}: it looks copied. Compare with your notes.`;
        tell("repeated-readings", `specimens.${index}`, text);
      } else {
        first.set(row, bar.id);
      }
    });
  }

  function onMark(reading, mark, slack) {
    const steps = reading / mark;
    return Math.abs(steps - Math.round(steps)) <= slack * Math.max(1, Math.abs(steps));
  }

  /* Single readings between the marks of the scale and their middles, where all others keep to them. */
  function readingDivision({ record, data, found, tell }) {
    if (!found) return;
    const { rig, division_J, division_deg } = found.hammer;
    const [size, unit] = rig.reads === "energy" ? [division_J, " J"] : [division_deg, "°"];
    if (!size) return;
    const swings = Object.entries(record.free_swings || {}).filter(([name]) => name !== "half_swings");
    const readings = swings.map(([name, number]) => [`free_swings.${name}`, number.value]);
    record.specimens.forEach((bar, index) => {
      const name = bar.rise_angle_deg ? "rise_angle_deg" : "indicated_energy_J";
      if (bar[name]) readings.push([`specimens.${index}.${name}`, bar[name].value]);
    });
    const { fewest_read, slips, mark_slack } = data.limits;
    const between = readings.filter(([, value]) => !onMark(value, size / 2, mark_slack));
    if (readings.length < fewest_read || between.length > slips * readings.length) return;
    for (const [place] of between) {
      const text = `Finer than half a division of ${plain(size)}${unit}, which the other readings keep to. Read again.`;
      tell("reading-division", place, text);
    }
  }

  /* In how many orders the values can stand: n! / (k_1! k_2! ...) with k of each value. */
  function arrangements(values) {
    const seen = new Map();
    return values.reduce((product, value, index) => {
      seen.set(value, (seen.get(value) || 0) + 1);
      return (product * (index + 1)) / seen.get(value);
    }, 1);
  }

  function isSorted(values, inOrder) {
    return values.every((value, index) => !index || inOrder(values[index - 1], value));
  }

  /* Readings in order of size, of bars in the order of their numbers. */
  function readingOrder({ record, data, tell }) {
    const readings = record.specimens.map(readingOf).filter(Boolean).map(number => number.value);
    const { fewest_in_order, most_chance } = data.limits;
    if (readings.length < fewest_in_order || 2 / arrangements(readings) >= most_chance) return;
    if (!isSorted(readings, (one, next) => one <= next) && !isSorted(readings, (one, next) => one >= next)) return;
    const byNumber = (one, next) => one.length < next.length || (one.length === next.length && one <= next);
    if (!isSorted(record.specimens.map(bar => bar.id), byNumber)) return;
    tell("reading-order", "specimens", `All ${readings.length} readings stand in order of size: were they sorted, or ` +
      "does the pendulum drift? Compare with your notes.");
  }

  function barMissing({ record, data, tell }) {
    const { row_number, most_missing } = data.limits;
    const ids = record.specimens.map(bar => bar.id);
    if (!ids.length || !ids.every(id => matches(row_number, id))) return;
    const numbers = new Set(ids.map(Number));
    const [first, last] = [Math.min(...numbers), Math.max(...numbers)];
    const lacking = last - first + 1 - numbers.size;
    if (numbers.size !== ids.length || !lacking || lacking > most_missing) return;
    const missing = Array.from({ length: last - first }, (_, step) => first + step).filter(each => !numbers.has(each));
    tell("bar-missing", "specimens", `Numbered ${first} to ${last} without ${missing.join(" and ")}. ` +
      "Add what is missing; a bar that does not count is left out with its reason.");
  }

  /* What a bar that did not break takes at least, by those that did: the most of those that came apart, the mean of
     those that nearly did, or a share of the mean of all. NaN where too few tell it. */
  function leastUnbroken_J({ record, data, found }) {
    const { apart, hinged, partial } = data.limits;
    const energies = ({ roles }) => found.bars.map(bar => bar.energy_J).filter((energy, index) => {
      const bar = record.specimens[index];
      return energy !== null && counts(bar, data) && roles.includes(data.method.breaks[bar.break].role);
    });
    const mean = values => sum(values) / values.length;
    const [whole, nearly, all] = [energies(apart), energies(hinged), energies(partial)];
    if (whole.length >= apart.fewest) return Math.max(...whole);
    if (nearly.length >= hinged.fewest) return mean(nearly);
    return all.length >= partial.fewest ? partial.share * mean(all) : NaN;
  }

  function noBreakEnergy(given) {
    const { record, data, found, tell } = given;
    const least = leastUnbroken_J(given);
    record.specimens.forEach((bar, index) => {
      const kind = data.method.breaks[bar.break];
      const energy = found.bars[index].energy_J;
      if (!kind || kind.has_strength || bar.excluded || energy === null || !(energy < least)) return;
      tell("no-break-energy", `specimens.${index}.break`,
        `Did not break, and took ${plain(energy)} J; by those that broke it takes ${plain(least)} J. Look at it again.`);
    });
  }

  /* Bars whose strength is not known yet are taken for those of the largest set. */
  function number({ record, data, found, tell }) {
    const { number: asked, fewer, below_pct } = data.method.specimen_number;
    const counted = record.specimens.filter(bar => !bar.excluded).length;
    if (counted >= asked) return;
    const [largest = { n: 0, variation_pct: null }] = found.sets;
    const lacking = record.specimens.filter((bar, index) => !bar.excluded && found.bars[index].strength_kJ_m2 === null
      && (data.method.breaks[bar.break] || { has_strength: true }).has_strength);
    const alike = largest.n + lacking.length;
    const variation = largest.variation_pct;
    if (alike >= fewer && (!found.sets.length || (variation !== null && variation < below_pct))) return;
    const spread = variation === null ? "" : `; of ${alike} it is ${fixed(variation, 1)} %`;
    tell("specimen-number", "specimens",
      `Bars that count: ${counted}. ${data.method.standard} asks for ${asked}, or for ` +
      `${fewer} that share a mean where its coefficient of variation is below ${plain(below_pct)} %${spread}.`);
  }

  function mixedBreaks({ record, data, tell }) {
    const counted = new Map();
    for (const bar of record.specimens) {
      const kind = data.method.breaks[bar.break];
      if (bar.excluded || !kind) continue;
      const key = kind.group.join();
      counted.set(key, [...(counted.get(key) || []), bar.break]);
    }
    if (counted.size < 2) return;
    const words = [...counted.values()].map(letters => `${letters.length} ${[...new Set(letters)].sort().join("/")}`);
    const text = `The bars broke in more than one way (${words.join(", ")}). Each way has its own result.`;
    tell("mixed-breaks", "specimens", text);
  }

  /* Every complaint about the bars as a whole. */
  function check(given) {
    for (const each of [repeatedReadings, readingDivision, readingOrder, barMissing, mixedBreaks]) each(given);
    if (!given.found) return;
    noBreakEnergy(given);
    number(given);
  }

  worksheet.checksSeries = Object.freeze({ check, onMark });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
