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
  const own = (text.match(NUMBER) || []).map(each => Number(each.replace("−", "-"))).filter(each => !numbers.includes(each));
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

function numbers(found, wanted) {
  const { whole_J } = wanted;
  const losses = found.losses && Object.values(found.losses);
  // angles to half a turn, energies to the hammer's
  if (!losses !== !wanted.losses ||
      (losses && !losses.every((each, place) => near(each, wanted.losses[place], place < 2 ? 180 : whole_J)))) {
    return otherThan(losses, wanted.losses);
  }
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
    const [breaks, n, mean, deviation, variation, low, high, largest] = wanted.sets[index];
    const ends = set.interval || [null, null];
    if (!same(set.breaks, breaks) || set.n !== n || !near(set.mean, mean, largest) ||
        !near(set.deviation, deviation, largest) || !near(ends[0], low, largest) || !near(ends[1], high, largest) ||
        !near(set.variation_pct, variation, mean ? (100 * largest) / Math.abs(mean) : 0)) {
      return otherThan(set, wanted.sets[index]);
    }
  }
  return null;
}

/* Whether all numbers that complaints hang on are those of the engine to the last bit. */
function toTheBit(found, wanted) {
  const losses = found.losses && Object.values(found.losses);
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

/* What the scripts say otherwise than the engine; null where they agree. Where a number stands at the very edge of a
   computed limit, complaints are compared where both know the same numbers to the last bit. */
function differs({ read, found, findings, words }, { expected, tight, words: expectedWords }, severities) {
  if (expected.refused.length || read.refused.length) return refusals(read, expected.refused);
  if (read.missing.length) return otherThan(read.missing, []);
  const repeats = findings.filter(({ rule }) => rule === REPEATED).map(({ place }) => place).sort();
  const others = findings.filter(({ rule }) => rule !== REPEATED);
  return numbers(found, expected) ||
    (same(repeats, expected.repeats) ? null : otherThan(repeats, expected.repeats)) ||
    (tight && !toTheBit(found, expected) ? null : complaints(others, expected.findings, severities)) ||
    (!expectedWords || same(words, expectedWords) ? null : otherThan(words, expectedWords));
}

module.exports = { differs };
