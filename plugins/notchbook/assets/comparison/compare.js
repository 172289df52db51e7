/* Two sets of bars against each other, in the words of the engine: whether they may be compared, and by how much they
   differ (Welch). */

(function (worksheet) {
  "use strict";

  const { fixed, significant, intervalEnds } = worksheet.numbers;
  const { studentT } = worksheet.summary;

  function listed(words) {
    return words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}` : words.join("");
  }

  function decimalsOf(text) {
    return (text.split(".")[1] || "").length;
  }

  /* Why two sets are not to be compared. */
  function obstacles(a, b, data) {
    const found = [];
    data.have_to_agree.forEach((what, place) => {
      const both = [a.agree[place], b.agree[place]];
      if (both[0] !== both[1]) found.push(`different ${what}, ${listed(both)}`);
    });
    if (a.agree[0] === b.agree[0] && a.together !== b.together) {
      found.push(`different break types, ${a.letters} and ${b.letters}`);
    }
    if (a.departure[0] !== b.departure[0]) {
      const words = [a, b].map(each => `${each.record} ${each.departure[1]}`);
      found.push(`different departures from the method: ${words.join(", ")}`);
    }
    if (a.record === b.record && a.letters === b.letters) found.push("they are one and the same set");
    return found;
  }

  /* The first mean less the second with its 95 % interval; null for the interval where a set is a single bar. */
  function difference(a, b, data) {
    const whole = a.pendulum !== b.pendulum && a.whole && b.whole;
    const [first, second] = [a, b].map(each => (whole ? each.whole : each.alone));
    const apart = a.mean - b.mean;
    if (!first || !second) return { apart, interval: null };
    const error = Math.hypot(first[0], second[0]);
    if (!error) return { apart, interval: [apart, apart] };
    const shares = [first, second].map(([own, freedom]) =>
      (freedom === null ? 0 : (own / error) ** 4 / freedom));
    const total = shares[0] + shares[1];
    const reach = studentT(total ? 1 / total : Infinity, data.student_t) * error;
    return { apart, interval: [apart - reach, apart + reach] };
  }

  function amount({ apart, interval }, unit) {
    let size = significant(Math.abs(apart), 2);
    if (interval && interval[0] !== interval[1]) {
      const half = significant((interval[1] - interval[0]) / 2, 2);
      size = `${fixed(Math.abs(apart), decimalsOf(half))} ± ${half}`;
    }
    return `${size}\u00a0${unit} ${apart >= 0 ? "higher" : "lower"}`;
  }

  /* The result in one sentence, what it rests on, and what else differs. */
  function told(a, b, data) {
    const reasons = obstacles(a, b, data);
    if (reasons.length) return { result: `not comparable: ${reasons.join("; ")}`, basis: "", beside: "" };
    const found = difference(a, b, data);
    const size = amount(found, a.unit);
    const other = data.may_differ
      .map((what, place) => [what, a.may_differ[place], b.may_differ[place]])
      .filter(([, one, two]) => one !== two).map(([what, one, two]) => `${what} (${one}, ${two})`);
    const beside = listed(other);
    if (!found.interval) {
      return { result: `${size}; of a single bar no interval can be had`, basis: basis(a, b), beside };
    }
    const [low, high] = found.interval;
    const ends = `${intervalEnds(low, high).join(" to ")}\u00a0${a.unit}`;
    const holds = low <= 0 && high >= 0 ? "contains 0" : "does not contain 0";
    return { result: `${size}; the 95 % interval, ${ends}, ${holds}`, basis: basis(a, b), beside };
  }

  function basis(a, b) {
    if (a.pendulum === b.pendulum) {
      return "from the scatter of the bars alone: both were broken by one pendulum";
    }
    if (a.whole && b.whole) return "from the scatter of the bars and what is not known of the two pendulums";
    return "from the scatter of the bars alone, although the pendulums differ: what is not known of them is left out";
  }

  worksheet.twoSets = Object.freeze({ told });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
