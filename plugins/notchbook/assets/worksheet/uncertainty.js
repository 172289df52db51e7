/* How sure the mean of a set is: its scatter and what all bars share, as the engine's room of evaluation has it.

   The standard uncertainties of the inputs come with the page. What a metals method asks for is not worked out here. */

(function (worksheet) {
  "use strict";

  const { valueOf, known } = worksheet.numbers;
  const { studentT, sum } = worksheet.summary;

  const DEGREE = Math.PI / 180;

  /* Energy by which a pendulum rises less for each degree. */
  function riseSlope(hammer, angle_deg) {
    return hammer.moment_Nm * Math.sin(angle_deg * DEGREE) * DEGREE;
  }

  /* What a degree at an angle is on the scale: 1, or the energy that it shows less, which it does not tell at its ends. */
  function unitsPerDegree(hammer, angle_deg) {
    if (hammer.rig.reads === "angle") return 1;
    const half = hammer.division_J / 2;
    const height = 2 * hammer.moment_Nm * Math.sin((angle_deg * DEGREE) / 2) ** 2;
    return half <= height && height <= 2 * hammer.moment_Nm - half ? -riseSlope(hammer, angle_deg) : NaN;
  }

  /* Contributions to one bar's strength, in kJ/m2: of its own reading, and of each input that all bars share. */
  function contributions(bar, found, session, data) {
    const { hammer, losses, record } = session;
    const { moment_Nm, release_deg } = hammer;
    const [ofMoment, ofRelease, ofReading] = hammer.uncertain.map(each => (each === null ? NaN : each));
    const share = found.rise_deg / release_deg;
    const risen = (losses.swing_J + 2 * losses.indicator_J) / (2 * release_deg);
    const down = 0.5 * (1 - share);
    const read = (slope, angle_deg) => (ofReading * slope) / unitsPerDegree(hammer, angle_deg);
    const own = read(-riseSlope(hammer, found.rise_deg) - risen, found.rise_deg);
    const first = read(share * riseSlope(hammer, losses.first_rise_deg), losses.first_rise_deg);
    const second = read(down * riseSlope(hammer, losses.second_rise_deg), losses.second_rise_deg);
    const drifts = !record.free_swings && losses.swing_J + losses.indicator_J > 0;
    const thickness = valueOf(bar.thickness_mm);
    const width = valueOf(data.specimen.notch === "none" ? bar.width_mm : bar.remaining_width_mm);
    const perJ = 1000 / (thickness * width);
    const energies = [
      (ofMoment * found.energy_J) / moment_Nm,
      ofRelease * (down * riseSlope(hammer, release_deg) + share * risen),
      first, second,
      // zero of the day, marks at the bars and at the free swings
      record.free_swings ? own + first + second : own, own, first + second,
      drifts ? hammer.rig.loss_drift * found.loss_J : 0,
    ];
    const dimensions = [thickness, width].map(each => (data.dimension_mm * found.strength_kJ_m2) / each);
    return { own: own * perJ, shared: [...energies.map(each => each * perJ), ...dimensions] };
  }

  /* Expanded uncertainty at 95 % of the mean of a set of two bars or more, by the first order; null where it is not
     known. It is no less than half of the interval of the scatter alone. */
  function expanded_kJ_m2(set, members, session, data) {
    if (set.n === 1 || data.method.loss_correction !== "plastics" || !session.losses) return null;
    const parts = members.map(place =>
      contributions(session.record.specimens[place], session.bars[place], session, data));
    const mean = values => sum(values) / set.n;
    const reading = Math.sqrt(mean(parts.map(each => each.own ** 2)));
    const [scatter, freedom] = set.deviation >= reading
      ? [set.deviation / Math.sqrt(set.n), set.n - 1] : [reading, data.limits.largest];
    const shared = parts[0].shared.map((_, place) => mean(parts.map(each => each.shared[place])));
    const standard = Math.hypot(scatter, ...shared);
    if (known(standard, data.limits.largest) === null || !standard) return null;
    const effective = freedom * (standard / scatter) ** 4;
    const [low, high] = set.interval;
    return Math.max(studentT(effective, data.student_t) * standard, (high - low) / 2);
  }

  worksheet.uncertainty = Object.freeze({ unitsPerDegree, expanded_kJ_m2 });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
