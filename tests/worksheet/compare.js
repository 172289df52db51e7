/* What the scripts of the worksheet say of a session, held against what the engine says. */

"use strict";

const NUMBER = /[0-9]+(?:\.[0-9]+)?(?:e[-−+]?[0-9]+)?/g;
const SIDES = ["larger", "smaller"];
// of the largest value that something was worked out from
const NEAR = 1e-12;
// an example in the words of a refusal
const EXAMPLES = [10.02, 2026, 10, 6];
const REPEATED = "repeated-readings";

function near(given, wanted, whole) {
  if (given === null || wanted === null) return given === wanted;
  return Math.abs(given - wanted) <= NEAR * Math.max(Math.abs(wanted), whole);
}

function same(one, other) {
  return JSON.stringify(one) === JSON.stringify(other);
}

function otherThan(given, wanted) {
  return `${JSON.stringify(given)}, and not ${JSON.stringify(wanted)}`;
}

/* The numbers of a text that the engine's words do not have, and sides that are turned. */
function ownWords(text, numbers, sides) {
  const own = (text.match(NUMBER) || []).map(each => Number(each.replace("−", "-"))).filter(each => !numbers.some(other => near(each, other, 0)));
  return [...own, ...SIDES.filter(each => text.includes(each) !== sides.includes(each))].join(", ");
}

/* Entries that no file may hold. */
function refusals(read, wanted) {
  const lacking = wanted.filter(([rule]) => rule === "key-missing");
  const expected = wanted.filter(([rule]) => rule !== "key-missing");
  const told = read.refused.map(({ rule, place }) => `${rule} ${place}`).sort();
  if (!same(told, expected.map(([rule, place]) => `${rule} ${place}`).sort())) return otherThan(told, expected);
  if (lacking.length > 0 !== read.missing.length > 0) return otherThan(read.missing, lacking);
  for (const { place, text } of read.refused) {
    const [, , stated] = expected.find(([, keys]) => keys === place);
    const own = ownWords(text, [...stated, ...EXAMPLES], []);
    if (own) return `${text} (${own})`;
  }
  return null;
}

/* Numbers of free swings, each with what it is to be near to: the hammer's energy, or what a share is of. */
function swingNumbers(found, wanted) {
  const { difference_pct, expanded_pct, agrees } = found.agreement || {};
  const own = [found.loss_pct, found.later_J, found.decay_pct, difference_pct, expanded_pct, agrees]
    .map(each => (each === undefined ? null : each));
  const whole = [100, wanted.whole_J, 100, 100, 100, 0];
  const alike = own.every((each, place) => (typeof each === "boolean" ? each === wanted.shares[place]
    : near(each, wanted.shares[place], whole[place])));
  return alike ? null : otherThan(own, wanted.shares);
}

function numbers(found, wanted) {
  const { whole_J } = wanted;
  // JSON has no word for an angle that cannot be
  const losses = found.losses && Object.values(found.losses).map(each => (Number.isNaN(each) ? null : each));
  // angles to half a turn, energies to the hammer's
  if (!losses !== !wanted.losses ||
      (losses && !losses.every((each, place) => near(each, wanted.losses[place], place < 2 ? 180 : whole_J)))) {
    return otherThan(losses, wanted.losses);
  }
  if (wanted.shares) return swingNumbers(found, wanted);
  for (const [index, bar] of found.bars.entries()) {
    const [loss, energy, used, strength] = wanted.bars[index];
    const part = energy ? Math.abs(whole_J / energy) : 1;
    if (!near(bar.loss_J, loss, whole_J) || !near(bar.energy_J, energy, whole_J) || !near(bar.used_pct, used, 100) ||
        !near(bar.strength_kJ_m2, strength, Math.abs(strength) * part)) {
      return otherThan(bar, wanted.bars[index]);
    }
  }
  if (found.sets.length !== wanted.sets.length) return otherThan(found.sets, wanted.sets);
  for (const [index, set] of found.sets.entries()) {
    const [breaks, n, mean, deviation, variation, low, high, largest, expanded] = wanted.sets[index];
    const ends = set.interval || [null, null];
    if (!same(set.breaks, breaks) || set.n !== n || !near(set.mean, mean, largest) ||
        !near(set.deviation, deviation, largest) || !near(ends[0], low, largest) || !near(ends[1], high, largest) ||
        !near(set.expanded, expanded, largest) ||
        !near(set.variation_pct, variation, mean ? (100 * largest) / Math.abs(mean) : 0)) {
      return otherThan(set, wanted.sets[index]);
    }
  }
  return null;
}

/* Whether all numbers that complaints hang on are those of the engine to the last bit. */
function toTheBit(found, wanted) {
  const losses = found.losses && Object.values(found.losses);
  if (wanted.shares) return same(losses, wanted.losses);
  return same(losses, wanted.losses) &&
    found.bars.every((bar, index) => bar.energy_J === wanted.bars[index][1] && bar.used_pct === wanted.bars[index][2]) &&
    found.sets.every((set, index) => set.variation_pct === wanted.sets[index][4]);
}

function complaints(findings, wanted, severities) {
  const listed = findings.map(({ rule, severity, place }) => `${rule} ${severity} ${place}`).sort();
  const expected = wanted.map(([rule, place]) => `${rule} ${severities[rule]} ${place}`).sort();
  if (!same(listed, expected)) return otherThan(listed, expected);
  for (const { rule, place, text } of findings) {
    const said = wanted.filter(([other, keys]) => other === rule && keys === place);
    const own = said.map(([, , allowed, sides]) => ownWords(text, allowed, sides));
    if (own.every(Boolean)) return `${rule}: ${text} (${own[0]})`;
  }
  return null;
}

/* A reading that was left out of a series is told by its number. */
function gaps(read) {
  const untrue = read.missing.find(({ place, words }) => {
    const index = /^series\.\w+\.([0-9]+)$/.exec(place);
    return index && words !== `reading ${Number(index[1]) + 1} of the series` && !words.startsWith("a second");
  });
  return untrue ? untrue.words : null;
}

/* What is missing of a bar is told by its number, or by its row where that is missing; rows without entries are named
   as well. */
function rows(read, { bars }) {
  if (!read.record.specimens) return gaps(read);
  const touched = bars.map((bar, row) => [bar, row]).filter(([bar]) =>
    Object.entries(bar).some(([name, text]) => name !== "id" && text));
  for (const { place, words } of read.missing) {
    const index = /^specimens\.([0-9]+)\./.exec(place);
    if (!index) continue;
    const [bar, row] = touched[index[1]];
    if (!words.startsWith(bar.id ? `bar ${bar.id}:` : `bar in row ${row + 1}:`)) return words;
  }
  const empty = bars.map((bar, row) => [bar, row]).filter(([, row]) => !touched.some(([, other]) => other === row));
  const named = empty.map(([bar, row]) => bar.id || String(row + 1));
  return same(read.record.untouched, named) ? null : otherThan(read.record.untouched, named);
}

/* What the scripts say otherwise than the engine; null where they agree. At the very edge of a computed limit a
   complaint is compared where both know the same numbers to the last bit. */
function differs({ read, found, findings, words }, { session, expected, computed, words: expectedWords }, severities) {
  const misplaced = rows(read, session);
  if (misplaced) return misplaced;
  if (expected.refused.length || read.refused.length) return refusals(read, expected.refused);
  if (read.missing.length) return otherThan(read.missing, []);
  const left = computed.length && !toTheBit(found, expected) ? computed : [];
  const repeats = findings.filter(({ rule }) => rule === REPEATED).map(({ place }) => place).sort();
  const others = findings.filter(({ rule }) => rule !== REPEATED && !left.includes(rule));
  return numbers(found, expected) ||
    (same(repeats, expected.repeats) ? null : otherThan(repeats, expected.repeats)) ||
    complaints(others, expected.findings.filter(([rule]) => !left.includes(rule)), severities) ||
    (!expectedWords || same(words, expectedWords) ? null : otherThan(words, expectedWords));
}

/* What a single function gives otherwise than its twin in the engine. */
function resultDiffers(given, wanted) {
  if (Array.isArray(wanted)) {
    return Array.isArray(given) && wanted.length === given.length
      ? wanted.map((each, place) => resultDiffers(given[place], each)).find(Boolean) : otherThan(given, wanted);
  }
  // a mean or a spread of nothing is nothing to the last bit
  const agrees = typeof wanted === "number" && wanted ? near(given, wanted, 0) : same(given, wanted);
  return agrees ? null : otherThan(given, wanted);
}

module.exports = { differs, resultDiffers };
