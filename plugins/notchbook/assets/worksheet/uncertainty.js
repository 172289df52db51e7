/* How sure the mean of a set is: its scatter and what all bars share, as the engine's room of evaluation has it.

   The standard uncertainties of the inputs come with the page. What a metals method asks for is not worked out here. */

(function (worksheet) {
  "use strict";

  const { valueOf, known } = worksheet.numbers;

  const DEGREE = Math.PI / 180;
  // steps of the two sums and where they end, fine and far enough for twelve digits, and turns of Newton's method
  const WHOLE = { step: 0.125, end: 40 };
  const PART = { step: 0.0625, end: 5 };
  const TURNS = 10;

  /* Density of Student's t without its constant. */
  function density(t, freedom) {
    return Math.exp((-(freedom + 1) / 2) * Math.log1p((t * t) / freedom));
  }

  /* A sum over 0 and both sides of it by the trapezoidal rule. */
  function summed(term, { step, end }) {
    let total = term(0);
    for (let place = step; place < end; place += step) total += term(place) + term(-place);
    return total * step;
  }

  /* The area under the density, substituted so that a sum is as good as the integral. */
  function wholeArea(freedom) {
    return summed(place => density(Math.sinh(place), freedom) * Math.cosh(place), WHOLE);
  }

  /* The part of it between a value and its opposite. */
  function innerArea(t, freedom) {
    const area = summed(place => {
      const bent = (Math.PI / 2) * Math.sinh(place);
      return (density(t / (1 + Math.exp(-2 * bent)), freedom) * Math.cosh(place)) / Math.cosh(bent) ** 2;
    }, PART);
    return (area * t * Math.PI) / 2;
  }

  /* Student's t at 0.975 for any degrees of freedom, by Newton's method from the engine's value for the next whole ones;
     the first of these, for one degree, tells the probability. */
  function studentT(freedom, quantiles, largest) {
    const degrees = Math.min(freedom, largest);
    const probability = (2 / Math.PI) * Math.atan(quantiles[0]);
    const whole = wholeArea(degrees);
    let t = quantiles[Math.min(Math.ceil(degrees), quantiles.length) - 1];
    for (let turn = 0; turn < TURNS; turn += 1) {
      t -= (innerArea(t, degrees) - probability * whole) / (2 * density(t, degrees));
    }
    return t;
  }

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
    const { sum } = worksheet.summary;
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
    return Math.max(studentT(effective, data.student_t, data.limits.largest) * standard, (high - low) / 2);
  }

  worksheet.uncertainty = Object.freeze({ studentT, unitsPerDegree, expanded_kJ_m2 });
})((globalThis.notchbookWorksheet = globalThis.notchbookWorksheet || {}));
